/** Reading of flight logs: columns, units, damaged lines. */
package org.solarmargin.cli.log;
