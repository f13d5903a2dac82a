package org.solarmargin.core.estimator;

import org.solarmargin.core.state.StateBytes;

/**
 * What the chance of a shadow on a few cells takes from estimate, bounds and ceiling, as factors on
 * their values under even light. Computed when the mixture moves, kept in between.
 */
final class ShadowFactors {

  /** How many numbers a written state has. */
  static final int STATE_NUMBERS = 4;

  /**
   * Factor on the odds of uneven light in estimate and alerts. The bound carries a shadow that may
   * be there; an estimate that follows it, and an alert, ask for more evidence: for so much where
   * shadows are there for a fifth of the time or less, and where for half of it or more.
   */
  private static final double PROVEN_RARE = 0.005;

  private static final double PROVEN_LIKELY = 0.1;
  private static final double RARE_SHARE = 0.2;
  private static final double LIKELY_SHARE = 0.5;

  private static final double LOWER_TAIL = 0.05;

  /**
   * A bound that holds over all flights may fail throughout the one with a shadow. So where the
   * data favour one, the bound is to hold under the shadow: from this probability on, the odds
   * count for more by this power of it, and the tail becomes less in proportion, down to a least.
   */
  private static final double FAVOURED = 0.25;

  private static final double FAVOURED_POWER = 4;
  private static final double LEAST_TAIL = 0.01;

  /**
   * What the power at the first peak of a favoured shadow may lie under that of the mixture, share:
   * depths are 0.05 of the light apart, and dim cells are not equally dim. Chosen on creeping
   * shadows: with 0.04 the bound held in 94 and 85 % at 70 to 85 % load and above, with 0.08 in 99
   * and 96 %, without in 77 and 58 %.
   */
  private static final double DEPTH_DOUBT = 0.08;

  /** The quantile that the ceiling goes by while shadows are likely. */
  private static final double CAREFUL = 0.1;

  private final double proven;
  private final ShadowDistribution distribution;
  private double estimate;
  private double bound;
  private double alertBound;
  private double ceilingBound;

  /**
   * Factors of 1.
   *
   * @param share of time that shadows are there, 0 to 1
   * @param room of the distribution, free for others between two calls
   */
  ShadowFactors(double share, float[] room) {
    distribution = new ShadowDistribution(room);
    double likely = StateBounds.clamp((share - RARE_SHARE) / (LIKELY_SHARE - RARE_SHARE), 0, 1);
    proven = PROVEN_RARE * Math.pow(PROVEN_LIKELY / PROVEN_RARE, likely);
    reset();
  }

  void reset() {
    estimate = 1;
    bound = 1;
    alertBound = 1;
    ceilingBound = 1;
  }

  /**
   * Takes the mixture as it is now.
   *
   * @param median of the available power under even light, W
   * @param logSd sigma of its logarithm
   * @param available the estimate under even light over the median
   * @param low the lower bound under even light over the median
   */
  void take(
      ShadowMixture mixture,
      ShadowPeaks peaks,
      double median,
      double logSd,
      double available,
      double low) {
    if (!(median > 0 && logSd > 0 && available > 0 && low > 0)) {
      reset();
      return;
    }
    distribution.take(mixture, peaks, median, logSd);
    estimate = distribution.quantile(0.5, proven, available) / available;
    double favoured = Math.max(mixture.shadowWeight() / FAVOURED, 1);
    double trust = Math.pow(favoured, FAVOURED_POWER);
    double tail = Math.max(LOWER_TAIL / favoured, LEAST_TAIL);
    double odds = trust * mixture.shadowWeight();
    double favour = odds / (1 - mixture.shadowWeight() + odds);
    double depthDoubt = DEPTH_DOUBT * favour * favour;
    bound = (1 - depthDoubt) * distribution.quantile(tail, trust, low) / low;
    alertBound = distribution.quantile(LOWER_TAIL, proven, low) / low;
    ceilingBound = distribution.quantile(CAREFUL, 1, low) / low;
  }

  /** On the estimate. */
  double estimate() {
    return estimate;
  }

  /** On the lower bound. */
  double bound() {
    return bound;
  }

  /** On the lower bound that alerts go by. */
  double alertBound() {
    return alertBound;
  }

  /** On the lower bound, for the ceiling. */
  double ceilingBound() {
    return ceilingBound;
  }

  void write(StateBytes out) {
    out.put(estimate);
    out.put(bound);
    out.put(alertBound);
    out.put(ceilingBound);
  }

  void read(StateBytes in) {
    estimate = in.get();
    bound = in.get();
    alertBound = in.get();
    ceilingBound = in.get();
  }

  boolean healthy() {
    return isFactor(estimate) && isFactor(bound) && isFactor(alertBound) && isFactor(ceilingBound);
  }

  private static boolean isFactor(double value) {
    return value > 0 && value <= 1;
  }
}
