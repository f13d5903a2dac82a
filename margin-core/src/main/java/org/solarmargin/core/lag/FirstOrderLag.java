package org.solarmargin.core.lag;

/**
 * The weights of old and new value in one step of a first-order lag. The exponential is recomputed
 * only when the step changes, which it does not at a steady sample rate.
 */
public final class FirstOrderLag {

  private final double timeConstant;
  private double step = Double.NaN;
  private double keep;

  /**
   * Creates a lag.
   *
   * @param timeConstantSeconds s, more than 0
   */
  public FirstOrderLag(double timeConstantSeconds) {
    this.timeConstant = timeConstantSeconds;
  }

  /**
   * Weight of the old value.
   *
   * @param seconds length of the step, s, 0 or more
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
   * Weight of the new value.
   *
   * @param seconds length of the step, s, 0 or more
   * @return 1 - exp(-seconds / time constant)
   */
  public double share(double seconds) {
    return 1 - keep(seconds);
  }
}
