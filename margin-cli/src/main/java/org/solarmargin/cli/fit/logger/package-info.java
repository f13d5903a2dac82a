/** Identifies a logger's timing from its flight logs: filters, delays, rates, rounding. */
package org.solarmargin.cli.fit.logger;
