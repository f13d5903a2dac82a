package org.solarmargin.core.estimator;

/** What the filter corrects by: the readings of one instant, and the throttle that acts then. */
final class Sample {

  double volts;
  double amps;
  double throttle;

  /** Measured cell temperature, degrees Celsius; NaN if there is none. */
  double cellCelsius;

  /** Variance of the voltage's noise, V squared. */
  double voltsVariance;

  /** Variance of the current's noise, A squared. */
  double ampsVariance;

  boolean hasCellCelsius() {
    return !Double.isNaN(cellCelsius);
  }
}
