package org.solarmargin.core.estimator;

import org.solarmargin.core.state.StateBytes;

/**
 * The reduction of estimate, bounds and ceiling due to a possible shadow on a few cells, as factors
 * on their values under even light. Constants without a stated trial are engineering judgement.
 */
final class ShadowFactors {

  /** Number of values in a saved state. */
  static final int STATE_NUMBERS = 4;

  /**
   * Factors on the odds of uneven light for the estimate and for alerts. The bound allows for a
   * shadow that is only possible; alerts and, still more, the estimate require evidence. The first
   * of each pair applies if shadows are present for at most {@link #RARE_SHARE} of the time, the
   * second if for at least {@link #LIKELY_SHARE}.
   */
  private static final double ESTIMATE_RARE = 0.005;

  private static final double ESTIMATE_LIKELY = 0.1;
  private static final double ALERT_RARE = 0.1;
  private static final double ALERT_LIKELY = 0.5;
  private static final double RARE_SHARE = 0.2;
  private static final double LIKELY_SHARE = 0.5;

  /**
   * Tail probability of the bounds, in pairs as above. Below 0.05, because a wind that cools the
   * cells and cells that differ from the outset are larger errors than the sigmas of the filter
   * state. Where shadows are likely, the bound allows for one most of the time, and a little less
   * suffices: with 0.03 instead of 0.025 it is 1 to 2 % higher under shadows.
   */
  private static final double LOWER_TAIL = 0.025;

  private static final double LOWER_TAIL_LIKELY = 0.03;

  /**
   * Probability of a shadow above which the bound is made to hold under the shadow, because a bound
   * that holds on average over all flights could fail during the whole of a flight with a shadow.
   * With the ratio of the probability to this one, the odds are multiplied by its square and the
   * tail probability is divided by it, down to {@link #LEAST_TAIL}. Where shadows are likely, the
   * quantile itself allows for them.
   */
  private static final double FAVOURED_RARE = 0.045;

  private static final double FAVOURED_LIKELY = 0.8;
  private static final double LEAST_TAIL = 0.01;

  /**
   * Relative reduction of the bound under a likely shadow, because the depths of the hypotheses are
   * 0.05 of the light apart and the dim cells are not equally dim. Chosen on creeping shadows: with
   * 0.05 the bound held in 94 % of the samples above 85 % load, with 0.07 in 96 %.
   */
  private static final double DEPTH_ALLOWANCE = 0.08;

  /** Share of that reduction for the ceiling, which has to allow for the mean error only. */
  private static final double CEILING_SHARE = 0.5;

  /** Tail probability of the quantile that the ceiling uses while shadows are likely. */
  private static final double CEILING_TAIL = 0.1;

  private final double lowerTail;
  private final double estimateOdds;
  private final double alertOdds;
  private final double favouredFrom;
  private final ShadowDistribution distribution;
  private double estimate;
  private double bound;
  private double alertBound;
  private double ceilingBound;

  /**
   * Creates factors of 1.
   *
   * @param share share of the time in which shadows are present, 0 to 1
   * @param scratch scratch array of the distribution, which others may use between two calls
   */
  ShadowFactors(double share, float[] scratch) {
    distribution = new ShadowDistribution(scratch);
    double likely = StateBounds.ramp(share, RARE_SHARE, LIKELY_SHARE);
    lowerTail = between(LOWER_TAIL, LOWER_TAIL_LIKELY, likely);
    estimateOdds = between(ESTIMATE_RARE, ESTIMATE_LIKELY, likely);
    alertOdds = between(ALERT_RARE, ALERT_LIKELY, likely);
    favouredFrom = between(FAVOURED_RARE, FAVOURED_LIKELY, likely);
    reset();
  }

  /** Geometric interpolation, at 0 the first and at 1 the second value. */
  private static double between(double first, double second, double part) {
    return first * Math.pow(second / first, part);
  }

  void reset() {
    estimate = 1;
    bound = 1;
    alertBound = 1;
    ceilingBound = 1;
  }

  /**
   * Computes the factors for the present mixture.
   *
   * @param median median of the available power under even light, W
   * @param logSd sigma of its logarithm
   * @param available estimate under even light, relative to the median
   * @param low lower bound under even light, relative to the median
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
    estimate = distribution.quantile(0.5, estimateOdds, available) / available;
    double favoured = Math.max(mixture.shadowWeight() / favouredFrom, 1);
    double trust = favoured * favoured;
    double tail = Math.max(lowerTail / favoured, LEAST_TAIL);
    double odds = trust * mixture.shadowWeight();
    double favour = odds / (1 - mixture.shadowWeight() + odds);
    double allowance = DEPTH_ALLOWANCE * favour * favour;
    bound = (1 - allowance) * distribution.quantile(tail, trust, low) / low;
    alertBound = distribution.quantile(LOWER_TAIL, alertOdds, low) / low;
    double withoutDepth = distribution.quantile(CEILING_TAIL, 1, low) / low;
    ceilingBound = (1 - CEILING_SHARE * allowance) * withoutDepth;
  }

  /** Factor on the estimate. */
  double estimate() {
    return estimate;
  }

  /** Factor on the lower bound. */
  double bound() {
    return bound;
  }

  /** Factor on the lower bound that alerts use. */
  double alertBound() {
    return alertBound;
  }

  /** Factor on the lower bound for the ceiling. */
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
