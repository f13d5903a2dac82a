/**
 * When readings and commands happened: the time model of each channel, and the front end that
 * brings all channels to one instant before the estimator compares them.
 */
package org.solarmargin.core.timing;
