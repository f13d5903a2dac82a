/** A slow throttle ramp on a tether, and what it says of the array before the flight. */
package org.solarmargin.cli.ramp;
