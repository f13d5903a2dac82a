/** The first profile of a craft: every key, its unit, its default, and how to measure it. */
package org.solarmargin.cli.init;
