package org.solarmargin.cli.outlook;

/**
 * How the array lies.
 *
 * @param tilt from level, degrees
 * @param heading the way it tilts to, degrees from north, eastward; NaN for the sun's own
 */
record Attitude(double tilt, double heading) {}
