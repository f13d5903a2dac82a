package org.solarmargin.cli.logcheck;

/**
 * A fault that a log shows.
 *
 * @param line what is seen, one line for people, no full stop
 * @param advice what to do about it, an imperative, no full stop
 * @param voidsEstimates whether no estimate from this log means anything
 */
public record Finding(String line, String advice, boolean voidsEstimates) {}
