/** Reading flight logs: columns, units, bad lines. */
package org.solarmargin.cli.log;
