package org.solarmargin.cli.flightevent;

/**
 * Something that a warning should have preceded.
 *
 * @param seconds onset, time in the log, s
 * @param endSeconds when it was over, s; the onset for a mark
 * @param evidence what shows it, for people
 */
public record FlightEvent(double seconds, double endSeconds, String evidence) {}
