package org.solarmargin.cli.tune.rule;

import org.hipparchus.distribution.continuous.BetaDistribution;
import org.hipparchus.distribution.continuous.GammaDistribution;

/** Exact upper 95 % confidence limits of counts. */
public final class ConfidenceLimits {

  private static final double UPPER = 0.95;

  private ConfidenceLimits() {}

  /**
   * Upper limit of a share (C. Clopper, E. Pearson, Biometrika 26, 1934, one-sided).
   *
   * @param hits number of hits
   * @param of number of trials
   * @return upper limit of the share at 95 % confidence; 1 without trials
   */
  public static double shareAtMost(int hits, int of) {
    return hits >= of
        ? 1
        : new BetaDistribution(hits + 1.0, of - hits).inverseCumulativeProbability(UPPER);
  }

  /**
   * Upper limit of a rate (F. Garwood, Biometrika 28, 1936, one-sided).
   *
   * @param count number of events
   * @param hours time, h
   * @return upper limit of the rate per hour at 95 % confidence
   */
  public static double rateAtMost(int count, double hours) {
    return hours > 0
        ? new GammaDistribution(count + 1.0, 1).inverseCumulativeProbability(UPPER) / hours
        : Double.POSITIVE_INFINITY;
  }
}
