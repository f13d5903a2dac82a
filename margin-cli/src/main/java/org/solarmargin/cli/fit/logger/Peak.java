package org.solarmargin.cli.fit.logger;

/**
 * The peak of a log-likelihood along one parameter, from a parabola through three points. Its
 * standard error is robust against an inexact model (sandwich form: P. J. Huber 1967; H. White,
 * Econometrica 50, 1982): it is derived from the scatter of the slopes of the flight's blocks.
 */
final class Peak {

  private Peak() {}

  /**
   * Finds the peak and its standard error.
   *
   * @param at the middle point
   * @param step to the points on either side
   * @param below sums of the blocks at {@code at - step}
   * @param here at {@code at}
   * @param above at {@code at + step}
   * @return at most one step from the middle; unknown where the likelihood has no peak
   */
  static FittedValue of(double at, double step, double[] below, double[] here, double[] above) {
    double slope = 0;
    double curvature = 0;
    for (int b = 0; b < here.length; b++) {
      slope += (above[b] - below[b]) / (2 * step);
      curvature -= (above[b] - 2 * here[b] + below[b]) / (step * step);
    }
    if (!(curvature > 0)) {
      return FittedValue.UNKNOWN;
    }
    double shift = Math.min(Math.max(slope / curvature, -step), step);
    return new FittedValue(at + shift, error(2 * step, below, above, curvature));
  }

  /**
   * Standard error of a peak at the end of the parameter's range, where the slope is taken as 0.
   *
   * @param step to the second point
   * @param here sums of the blocks at the end of the range
   * @param above sums a step inside
   * @return standard error; infinite where the likelihood does not decrease
   */
  static double errorAtEnd(double step, double[] here, double[] above) {
    double drop = 0;
    for (int b = 0; b < here.length; b++) {
      drop += here[b] - above[b];
    }
    double curvature = 2 * drop / (step * step);
    return curvature > 0 ? error(step, here, above, curvature) : Double.POSITIVE_INFINITY;
  }

  /** Standard error from the scatter of the blocks' slopes between two points. */
  private static double error(double distance, double[] from, double[] to, double curvature) {
    int blocks = from.length;
    double slope = 0;
    for (int b = 0; b < blocks; b++) {
      slope += (to[b] - from[b]) / distance / blocks;
    }
    double scatter = 0;
    for (int b = 0; b < blocks; b++) {
      double own = (to[b] - from[b]) / distance - slope;
      scatter += own * own;
    }
    return Math.sqrt(scatter * blocks / (blocks - 1.0)) / curvature;
  }
}
