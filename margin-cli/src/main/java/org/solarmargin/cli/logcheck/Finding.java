package org.solarmargin.cli.logcheck;

/**
 * A fault found in a log.
 *
 * @param line human-readable description in one line, without full stop
 * @param advice what to do about it, in the imperative, without full stop
 * @param invalidatesEstimates whether it invalidates all estimates from this log
 */
public record Finding(String line, String advice, boolean invalidatesEstimates) {}
