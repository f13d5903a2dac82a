/** Strict reading of tables; errors name the line. */
package org.solarmargin.cli.csv;
