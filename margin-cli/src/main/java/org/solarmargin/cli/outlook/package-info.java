/** What a clear day would give a craft: light, heat, available power, hover and margin ahead. */
package org.solarmargin.cli.outlook;
