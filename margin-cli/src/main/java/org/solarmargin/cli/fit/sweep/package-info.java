/**
 * Current-voltage sweeps: checks, least squares of the single-diode model, several sweeps together.
 */
package org.solarmargin.cli.fit.sweep;
