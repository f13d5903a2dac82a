package org.solarmargin.cli.flightevent;

/**
 * A loss of lift or a mark, which a warning should have preceded.
 *
 * @param seconds onset, time in the log, s
 * @param endSeconds when it was over, s; the onset for a mark
 * @param evidence human-readable evidence
 */
public record FlightEvent(double seconds, double endSeconds, String evidence) {}
