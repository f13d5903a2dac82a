package org.solarmargin.core.lag;

/**
 * What a first-order lag keeps over a step. The exponential is computed anew only when the step
 * changes, which at a steady sample rate is never.
 */
public final class FirstOrderLag {

  private final double timeConstant;
  private double step = Double.NaN;
  private double keep;

  /**
   * A lag.
   *
   * @param timeConstantSeconds s, more than 0
   */
  public FirstOrderLag(double timeConstantSeconds) {
    this.timeConstant = timeConstantSeconds;
  }

  /**
   * Share that is kept.
   *
   * @param seconds step, s, 0 or more
   * @return exp(-seconds / time constant)
   */
  public double keep(double seconds) {
    if (seconds != step) {
      step = seconds;
      keep = Math.exp(-seconds / timeConstant);
    }
    return keep;
  }

  /**
   * Share that moves on to the new value.
   *
   * @param seconds step, s, 0 or more
   * @return 1 - exp(-seconds / time constant)
   */
  public double share(double seconds) {
    return 1 - keep(seconds);
  }
}
