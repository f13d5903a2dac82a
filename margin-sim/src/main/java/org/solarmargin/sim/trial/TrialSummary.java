package org.solarmargin.sim.trial;

import java.util.Arrays;
import java.util.List;

/** Statistics of one scenario: losses, warnings, and the accuracy of the estimate. */
public final class TrialSummary {

  private final List<Outcome> outcomes;

  /**
   * Creates a summary.
   *
   * @param outcomes outcomes of one scenario and one setting of the limiter
   */
  public TrialSummary(List<Outcome> outcomes) {
    this.outcomes = List.copyOf(outcomes);
  }

  /**
   * Number of flights.
   *
   * @return count
   */
  public int flights() {
    return outcomes.size();
  }

  /**
   * Hours flown.
   *
   * @return h
   */
  public double hours() {
    return outcomes.stream().mapToDouble(Outcome::seconds).sum() / 3600;
  }

  /**
   * Number of losses.
   *
   * @return count
   */
  public long losses() {
    return outcomes.stream().filter(Outcome::lost).count();
  }

  /**
   * Number of losses without an active WARNING.
   *
   * @return count
   */
  public long missed() {
    return outcomes.stream().filter(Outcome::missed).count();
  }

  /**
   * A quantile of the lead times of warned losses.
   *
   * @param share probability of the quantile, 0 to 1
   * @return s; NaN if there is no warned loss
   */
  public double lead(double share) {
    double[] leads =
        outcomes.stream()
            .filter(o -> o.lost() && !o.missed())
            .mapToDouble(o -> o.alerts().warnedSeconds())
            .toArray();
    Arrays.sort(leads);
    return leads.length == 0
        ? Double.NaN
        : leads[(int) Math.min(share * leads.length, leads.length - 1.0)];
  }

  /**
   * Rate of nuisance WARNINGs.
   *
   * @return 1/h
   */
  public double nuisancesPerHour() {
    return outcomes.stream().mapToInt(o -> o.alerts().nuisances()).sum() / hours();
  }

  /**
   * Share of evaluated samples whose lower bound held.
   *
   * @return 0 to 1
   */
  public double coverage() {
    return ratio(sum(o -> o.accuracy().covered()), sum(o -> o.accuracy().samples()));
  }

  /**
   * Share of evaluated samples in a load class whose lower bound held.
   *
   * @param load class, see {@link Accuracy#LOADS}
   * @return 0 to 1; NaN if there are none
   */
  public double coverage(int load) {
    return ratio(
        sum(o -> o.accuracy().byLoad().get(load).covered()),
        sum(o -> o.accuracy().byLoad().get(load).samples()));
  }

  /**
   * Root mean square of the available power's relative error.
   *
   * @return percent
   */
  public double rmsPercent() {
    return 100
        * Math.sqrt(ratio(sum(o -> o.accuracy().squaredError()), sum(o -> o.accuracy().samples())));
  }

  /**
   * Size of the available power's relative error within which a share of the samples lies, to 0.1
   * %.
   *
   * @param share the share, 0 to 1
   * @return percent; 30 means 30 or more, NaN no samples
   */
  public double errorQuantilePercent(double share) {
    double wanted = share * sum(o -> o.accuracy().samples());
    double within = 0;
    int size = 0;
    while (size < Accuracy.ERROR_CLASSES && (size == 0 || within < wanted)) {
      int next = size++;
      within += sum(o -> o.accuracy().errorCounts().get(next));
    }
    return within > 0 ? 100 * Accuracy.ERROR_STEP * size : Double.NaN;
  }

  /**
   * Mean relative error of the available power.
   *
   * @return percent
   */
  public double biasPercent() {
    return 100 * ratio(sum(o -> o.accuracy().errorSum()), sum(o -> o.accuracy().samples()));
  }

  /**
   * Mean normalised innovation squared: 2 if model and stated errors are right, less if the stated
   * errors are too large.
   *
   * @return 0 or more
   */
  public double meanInnovation() {
    return ratio(sum(o -> o.accuracy().innovationSum()), sum(o -> o.accuracy().samples()));
  }

  /**
   * Root mean square of the relative error at a margin below 30 %.
   *
   * @return percent; NaN if there were no such samples
   */
  public double nearRmsPercent() {
    return 100
        * Math.sqrt(
            ratio(
                sum(o -> o.accuracy().near().squaredError()),
                sum(o -> o.accuracy().near().samples())));
  }

  /**
   * Share of evaluated samples more than 5 % optimistic.
   *
   * @return percent
   */
  public double optimisticPercent() {
    return 100 * ratio(sum(o -> o.accuracy().optimistic()), sum(o -> o.accuracy().samples()));
  }

  /**
   * Median over flights of the mean relative distance of the lower bound below the estimate, at 60
   * % load or more.
   *
   * @return percent
   */
  public double gapPercent() {
    double[] gaps =
        outcomes.stream()
            .mapToDouble(o -> o.accuracy().meanGap())
            .filter(g -> !Double.isNaN(g))
            .sorted()
            .toArray();
    return gaps.length == 0 ? Double.NaN : 100 * gaps[gaps.length / 2];
  }

  /**
   * Root mean square of the throttle ceiling's relative error.
   *
   * @return percent
   */
  public double ceilingRmsPercent() {
    return 100
        * Math.sqrt(
            ratio(
                sum(o -> o.accuracy().ceiling().squaredError()),
                sum(o -> o.accuracy().ceiling().samples())));
  }

  /**
   * Median over flights of the height lost.
   *
   * @return m
   */
  public double heightLost() {
    double[] lost = outcomes.stream().mapToDouble(Outcome::heightLost).sorted().toArray();
    return lost.length == 0 ? Double.NaN : lost[lost.length / 2];
  }

  /**
   * Numbers of samples past the knee by detector.
   *
   * @return model alone, power drop alone, both
   */
  public List<Long> kneeDetections() {
    return List.of(
        (long) sum(o -> o.knee().modelOnly()),
        (long) sum(o -> o.knee().powerDropOnly()),
        (long) sum(o -> o.knee().both()));
  }

  private double sum(java.util.function.ToDoubleFunction<Outcome> part) {
    return outcomes.stream().mapToDouble(part).sum();
  }

  private static double ratio(double part, double whole) {
    return whole == 0 ? Double.NaN : part / whole;
  }
}
