/** Formatting shared by all verbs: numbers, times, lines, charts and progress. */
package org.solarmargin.cli.format;
