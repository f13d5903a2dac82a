package org.solarmargin.cli.replay;

/**
 * A mark that the flyer made.
 *
 * @param seconds time in the log, s
 * @param timeText the log's own text of that time
 * @param text what was marked
 */
record Mark(double seconds, String timeText, String text) {}
