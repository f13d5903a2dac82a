/** A simulated flight as a telemetry link would send it. */
package org.solarmargin.cli.rehearse;
