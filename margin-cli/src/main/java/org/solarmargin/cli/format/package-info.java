/** Numbers, times, lines, charts and progress as all verbs print them. */
package org.solarmargin.cli.format;
