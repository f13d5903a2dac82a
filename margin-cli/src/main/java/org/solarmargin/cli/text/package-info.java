/** Numbers, times, progress and output files, as all verbs write them. */
package org.solarmargin.cli.text;
