/**
 * Current-voltage sweeps: checks, least-squares fits of the single-diode model, and joint fits of
 * several sweeps.
 */
package org.solarmargin.cli.fit.sweep;
