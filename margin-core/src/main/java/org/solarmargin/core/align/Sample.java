package org.solarmargin.core.align;

/**
 * What the filter corrects by: readings and throttle of one instant. One of the two readings may be
 * absent; it then has the last value. Refilled by its owner.
 */
public final class Sample {

  /** The instant, ns. */
  public long nanos;

  /** Whether a voltage belongs to the instant. */
  public boolean hasVolts = true;

  /** Whether a current belongs to the instant. */
  public boolean hasAmps = true;

  /** Bus voltage, V. */
  public double volts;

  /** Bus current, A. */
  public double amps;

  /** Throttle that acts at the instant, as the filter is to see it, 0 to 1. */
  public double throttle;

  /** Measured cell temperature, degrees Celsius; NaN if there is none. */
  public double cellCelsius = Double.NaN;

  /** Variance of the voltage's noise before the filter, V squared. */
  public double voltsVariance;

  /** Variance of the current's noise before the filter, A squared. */
  public double ampsVariance;

  /**
   * How much of the voltage is the new value, the rest what its filter held: 1 without a filter.
   */
  public double voltsNew = 1;

  /**
   * How much of the current is the new value, the rest what its filter held: 1 without a filter.
   */
  public double ampsNew = 1;

  /** Variance of what the voltage's rounding leaves behind the filter, V squared. */
  public double voltsReadout;

  /** Variance of what the current's rounding leaves behind the filter, A squared. */
  public double ampsReadout;

  /** A sample to be filled. */
  public Sample() {}

  /**
   * Whether there is a measured cell temperature.
   *
   * @return false if it is NaN
   */
  public boolean hasCellCelsius() {
    return !Double.isNaN(cellCelsius);
  }
}
