package org.solarmargin.core.estimator;

/**
 * Estimate and lower bounds of the available power: the peak at the filter's state, its sigma with
 * the stated errors of the model, the biases towards a lower value, and the factors of possible
 * shadows. Constants without a source are engineering judgement, not tuned.
 */
final class PowerBounds {

  /** Load from which the operating point is near the knee. */
  static final double NEAR_LOAD = 0.85;

  /**
   * Number of sigmas of the lower bound below the median: 1.6449 for 95 % of a normal distribution,
   * and more, because the sigma is that of the filter's own model. With 1.6449 the bound held in 93
   * and 94 % of the samples at 70 to 85 % load with a wind that cools the cells and with a cracked
   * cell, of which the filter does not know.
   */
  private static final double LOWER_SIGMAS = 1.9;

  /**
   * The same for the bound that alerts use. With 1.9 there are 2.4 nuisances per hour in gusty
   * hover and 0.4 in slow fades instead of 0.5 and 0, and the median lead time is 0.2 s longer
   * under creeping shadows and 1 s longer in slow fades.
   */
  private static final double ALERT_SIGMAS = 1.6449;

  /** Relative error of a uniform single-diode array (unequal cells, wiring), 1 sigma. */
  private static final double MODEL_LOG_SD = 0.016;

  /**
   * Relative loss of power at the knee due to a weak cell, which cannot be observed before the
   * knee, 1 sigma: common practice, no source. It is phased in with the load, because far from the
   * knee the other errors are larger anyway.
   */
  private static final double KNEE_LOG_SD = 0.03;

  private static final double FAR_LOAD = 0.6;

  /**
   * Number of sigmas by which the estimate is biased low far from the knee, where the light is
   * poorly observable and the last watt is not needed: overestimation is the costlier error.
   */
  private static final double LOW_LOAD_BIAS_SIGMAS = 0.14;

  private static final double BIASED_BELOW_LOAD = 0.55;
  private static final double PLAIN_LOAD = 0.75;
  private static final double LEAST_WATTS = 1e-9;

  private final AlignedFilter main;
  private final PowerPeak peak;
  private final UnevenLight uneven;
  private final LiveTiming timing;
  private final FaultBias fault;

  private double logSd;
  private double available;
  private double low;
  private double alertLow;
  private double shadowed;
  private double ceilingLow;

  PowerBounds(
      AlignedFilter main, PowerPeak peak, UnevenLight uneven, LiveTiming timing, FaultBias fault) {
    this.main = main;
    this.peak = peak;
    this.uneven = uneven;
    this.timing = timing;
    this.fault = fault;
  }

  void reset() {
    available = Double.NaN;
    alertLow = 0;
  }

  /**
   * Solves the peak at the present state and computes all values there.
   *
   * @param demandWatts steady demand, W
   */
  void solve(double demandWatts) {
    peak.solve();
    double median = peak.watts();
    double load = demandWatts / Math.max(median, LEAST_WATTS);
    double near = StateBounds.ramp(load, FAR_LOAD, NEAR_LOAD);
    double modelVariance =
        square(MODEL_LOG_SD) + square(near * KNEE_LOG_SD) + square(timing.timingLogSd());
    logSd = Math.sqrt(peak.logVariance(main.filter().covariance()) + modelVariance);
    double far = 1 - StateBounds.ramp(load, BIASED_BELOW_LOAD, PLAIN_LOAD);
    double biasSigmas =
        LOW_LOAD_BIAS_SIGMAS * far
            + main.filter().coolingBiasSigmas()
            + timing.biasSigmas()
            + fault.sigmas();
    double bias = biasSigmas * logSd;
    double evenShare = bias > 0 ? Math.exp(-bias) : 1;
    // a sigma that is NaN leaves no lower bound above 0
    double lowShare = logSd >= 0 ? Math.exp(-LOWER_SIGMAS * logSd) : 0;
    double alertShare = logSd >= 0 ? Math.exp(-ALERT_SIGMAS * logSd) : 0;
    ShadowFactors shadow = uneven.factors(median, logSd, evenShare, lowShare);
    available = shadow.estimate() * evenShare * median;
    low = Math.min(shadow.bound() * lowShare * median, available);
    alertLow = shadow.alertBound() * alertShare * median;
    shadowed = Math.max(Math.sqrt(shadow.bound()) * available, LEAST_WATTS);
    ceilingLow = Math.min(shadow.ceilingBound() * lowShare * median, available);
  }

  /** Sigma of the logarithm of the available power under even light. */
  double logSd() {
    return logSd;
  }

  /** Estimate, W; NaN before the first one. */
  double available() {
    return available;
  }

  /** Lower bound, W, not above the estimate. */
  double low() {
    return low;
  }

  /** Lower bound for alerts, W. */
  double alertLow() {
    return alertLow;
  }

  /** Geometric mean of the estimate and what a possible shadow leaves of it, W. */
  double shadowed() {
    return shadowed;
  }

  /** Lower bound for the ceiling far from the knee, W. */
  double ceilingLow() {
    return ceilingLow;
  }

  private static double square(double v) {
    return v * v;
  }
}
