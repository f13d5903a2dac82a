/** Losses of lift and marks found in a flight, and how an alarm did before them. */
package org.solarmargin.cli.flightevent;
