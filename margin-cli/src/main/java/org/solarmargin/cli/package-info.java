/** The margin command: verbs, exit status, and what all verbs share. */
package org.solarmargin.cli;
