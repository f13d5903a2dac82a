/** The margin command: entry point and list of verbs. */
package org.solarmargin.cli;
