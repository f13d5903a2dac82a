package org.solarmargin.core.estimator;

/**
 * The exponential of a quantity that changes little from one sample to the next: a small change
 * updates the last value by a series, a larger one evaluates the exponential. The relative error
 * grows by at most 5e-14 with each small change and is zero after a larger one.
 */
final class IncrementalExponential {

  private static final double SMALL_STEP = 1e-3;

  private double exponent = Double.NaN;
  private double value = Double.NaN;

  /** Makes the next call evaluate the exponential, so that it does not depend on earlier ones. */
  void forget() {
    exponent = Double.NaN;
  }

  double of(double next) {
    double by = next - exponent;
    if (Math.abs(by) < SMALL_STEP) {
      value *= 1 + by * (1 + by * (0.5 + by / 6));
    } else {
      value = Math.exp(next);
    }
    exponent = next;
    return value;
  }

  /** The last value returned. */
  double value() {
    return value;
  }
}
