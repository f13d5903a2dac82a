package org.solarmargin.core.align;

/**
 * The input of one measurement update: readings and throttle of one instant. One of the two
 * readings may be absent; it then has its last value. The owner refills the object for each
 * instant.
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

  /** Throttle in effect at the instant, after command delay and lag, 0 to 1. */
  public double throttle;

  /** Measured cell temperature, degrees Celsius; NaN if there is none. */
  public double cellCelsius = Double.NaN;

  /** Variance of the voltage's noise before the filter, V squared. */
  public double voltsVariance;

  /** Variance of the current's noise before the filter, A squared. */
  public double ampsVariance;

  /**
   * Weight of the new value in the voltage reading; the rest is the filter's previous output. 1
   * without a filter.
   */
  public double voltsNew = 1;

  /**
   * Weight of the new value in the current reading; the rest is the filter's previous output. 1
   * without a filter.
   */
  public double ampsNew = 1;

  /** Variance of the voltage's rounding error, which arises behind the filter, V squared. */
  public double voltsReadout;

  /** Variance of the current's rounding error, which arises behind the filter, A squared. */
  public double ampsReadout;

  /** Creates an empty sample. */
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
