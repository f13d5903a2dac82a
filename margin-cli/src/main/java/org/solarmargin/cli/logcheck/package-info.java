/**
 * Faults of a whole log, found from running statistics in constant memory: each is one small check,
 * judged at the end of the log.
 */
package org.solarmargin.cli.logcheck;
