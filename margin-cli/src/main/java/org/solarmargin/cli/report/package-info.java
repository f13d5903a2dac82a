/**
 * Self-contained pages: style, script and data in one file, and flights downsampled in constant
 * memory.
 */
package org.solarmargin.cli.report;
