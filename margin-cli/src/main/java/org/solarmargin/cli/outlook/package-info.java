/**
 * Forecasts for a craft on a clear day: light, cell temperature, available power, hover and margin.
 */
package org.solarmargin.cli.outlook;
