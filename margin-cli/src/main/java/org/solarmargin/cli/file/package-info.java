/** Atomic output files, and properties files that are changed in place. */
package org.solarmargin.cli.file;
