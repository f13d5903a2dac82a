/** Tables read strictly, with line numbers for what is wrong in them. */
package org.solarmargin.cli.csv;
