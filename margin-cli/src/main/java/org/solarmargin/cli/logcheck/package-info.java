/**
 * Checks for faults of a whole log, from running statistics in constant memory; each gives its
 * finding at the end of the log.
 */
package org.solarmargin.cli.logcheck;
