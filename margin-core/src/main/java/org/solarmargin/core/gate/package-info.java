/**
 * Plausibility checks before the estimator: each sample is accepted or refused, with the reason.
 * The gate counts its verdicts, never throws and does not change values.
 */
package org.solarmargin.core.gate;
