package org.solarmargin.cli.fit.logger;

/**
 * The peak of a log-likelihood along one parameter, from a parabola through three points. Its standard error is robust against an inexact model (sandwich form: P. J. Huber 1967; H. White, Econometrica 50, 1982): it is derived from the scatter of the slopes of the flight's blocks.
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
  static Told of(double at, double step, double[] below, double[] here, double[] above) {
    double slope = 0;
    double bend = 0;
    for (int b = 0; b < here.length; b++) {
      slope += (above[b] - below[b]) / (2 * step);
      bend -= (above[b] - 2 * here[b] + below[b]) / (step * step);
    }
    if (!(bend > 0)) {
      return Told.UNTOLD;
    }
    double shift = Math.min(Math.max(slope / bend, -step), step);
    return new Told(at + shift, error(2 * step, below, above, bend));
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
    double fall = 0;
    for (int b = 0; b < here.length; b++) {
      fall += here[b] - above[b];
    }
    double bend = 2 * fall / (step * step);
    return bend > 0 ? error(step, here, above, bend) : Double.POSITIVE_INFINITY;
  }

  /** Standard error from the scatter of the blocks' slopes between two points. */
  private static double error(double distance, double[] from, double[] to, double bend) {
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
    return Math.sqrt(scatter * blocks / (blocks - 1.0)) / bend;
  }
}
