package org.solarmargin.core.estimator;

/**
 * The exponential of a quantity that hardly moves from one sample to the next: taken anew only
 * where it moved far. Error at most 5e-14 a step, relative, and none after a larger one.
 */
final class IncrementalExponential {

  private static final double SMALL_STEP = 1e-3;

  private double exponent = Double.NaN;
  private double value = Double.NaN;

  /** Makes the next value a fresh one, so that it does not depend on earlier ones. */
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

  /** The value given last. */
  double value() {
    return value;
  }
}
