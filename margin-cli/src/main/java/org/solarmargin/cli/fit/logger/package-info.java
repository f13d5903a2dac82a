/** What flight logs tell of the logger that wrote them: filters, delays, rates, rounding. */
package org.solarmargin.cli.fit.logger;
