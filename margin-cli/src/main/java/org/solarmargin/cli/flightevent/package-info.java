/** Losses of lift and marks found in a flight, and the lead times of an alarm before them. */
package org.solarmargin.cli.flightevent;
