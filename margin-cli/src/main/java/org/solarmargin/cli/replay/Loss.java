package org.solarmargin.cli.replay;

/**
 * One stay past the knee.
 *
 * @param startSeconds time in the log, s
 * @param endSeconds time in the log, s
 * @param warnedSeconds how long before it a WARNING had stood; NaN if none stood
 * @param throttleCeiling at its start, 0 to 1; NaN if it was not known
 */
record Loss(double startSeconds, double endSeconds, double warnedSeconds, double throttleCeiling) {}
