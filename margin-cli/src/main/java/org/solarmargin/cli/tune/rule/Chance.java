package org.solarmargin.cli.tune.rule;

import org.hipparchus.distribution.continuous.BetaDistribution;
import org.hipparchus.distribution.continuous.GammaDistribution;

/** How far few counts can be trusted: exact 95 % limits. */
public final class Chance {

  private static final double UPPER = 0.95;

  private Chance() {}

  /**
   * Upper limit of a share (C. Clopper, E. Pearson, Biometrika 26, 1934, one-sided).
   *
   * @param hits counted
   * @param of tries
   * @return the share that, with 95 % probability, is not exceeded; 1 without tries
   */
  public static double shareAtMost(int hits, int of) {
    return hits >= of
        ? 1
        : new BetaDistribution(hits + 1.0, of - hits).inverseCumulativeProbability(UPPER);
  }

  /**
   * Upper limit of a rate (F. Garwood, Biometrika 28, 1936, one-sided).
   *
   * @param count counted
   * @param hours in this time
   * @return the rate an hour that, with 95 % probability, is not exceeded
   */
  public static double rateAtMost(int count, double hours) {
    return hours > 0
        ? new GammaDistribution(count + 1.0, 1).inverseCumulativeProbability(UPPER) / hours
        : Double.POSITIVE_INFINITY;
  }
}
