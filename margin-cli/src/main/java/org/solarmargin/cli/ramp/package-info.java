/** Analysis of a slow throttle ramp on a tether, which checks the array before the flight. */
package org.solarmargin.cli.ramp;
