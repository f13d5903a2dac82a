package org.solarmargin.cli.replay;

/**
 * One episode past the knee.
 *
 * @param startSeconds time in the log, s
 * @param endSeconds time in the log, s
 * @param warnedSeconds how long a WARNING had been active before it, s; NaN if none was
 * @param throttleCeiling throttle ceiling at its start, 0 to 1; NaN if unknown
 */
record Loss(double startSeconds, double endSeconds, double warnedSeconds, double throttleCeiling) {}
