package org.solarmargin.cli.replay;

/**
 * A mark made by the pilot.
 *
 * @param seconds time in the log, s
 * @param timeText the log's own text of that time
 * @param text text of the mark
 */
record Mark(double seconds, String timeText, String text) {}
