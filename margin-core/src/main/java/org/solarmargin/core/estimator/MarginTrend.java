package org.solarmargin.core.estimator;

import org.solarmargin.core.lag.FirstOrderLag;

/**
 * The trend of the margin: the slope is the difference of two first-order lags of the lower bound
 * of the available power over the difference of their time constants. The demand is smoothed by the
 * slow lag, so that a gust does not count as a trend. The constants are engineering judgement, not
 * tuned.
 */
final class MarginTrend {

  private static final double FAST_SECONDS = 0.7;
  private static final double SLOW_SECONDS = 2.5;
  private static final double SMALLEST_SLOPE_SHARE = 0.002;

  private final FirstOrderLag fastLag = new FirstOrderLag(FAST_SECONDS);
  private final FirstOrderLag slowLag = new FirstOrderLag(SLOW_SECONDS);

  private double fast;
  private double slow;
  private double demand;
  private double age;
  private boolean started;

  void reset() {
    started = false;
  }

  void update(double seconds, double availableLow, double steadyDemand) {
    if (!started || seconds > SLOW_SECONDS) {
      fast = availableLow;
      slow = availableLow;
      demand = steadyDemand;
      age = 0;
      started = true;
      return;
    }
    double fastShare = fastLag.share(seconds);
    double slowShare = slowLag.share(seconds);
    fast += fastShare * (availableLow - fast);
    slow += slowShare * (availableLow - slow);
    demand += slowShare * (steadyDemand - demand);
    age += seconds;
  }

  /**
   * Time to zero margin, s; infinite unless the bound falls by more than 0.2 % of itself per
   * second.
   */
  double secondsToZero() {
    if (!started || age < SLOW_SECONDS) {
      return Double.POSITIVE_INFINITY;
    }
    double slope = (fast - slow) / (SLOW_SECONDS - FAST_SECONDS);
    if (slope > -SMALLEST_SLOPE_SHARE * fast) {
      return Double.POSITIVE_INFINITY;
    }
    return Math.max((fast - demand) / -slope, 0);
  }
}
