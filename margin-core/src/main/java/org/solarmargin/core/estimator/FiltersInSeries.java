package org.solarmargin.core.estimator;

/**
 * The candidates of the search for the time model with two filters in series. The first is modelled
 * as a lag of the command: the effect of the throttle passes through both filters, noise only
 * through the second.
 *
 * <p>Readings behind two filters in series are smoother than under any candidate of the descent, so
 * that one filter that is far too long has the highest likelihood. It is recognised by innovations
 * that are correlated with throttle changes. Readings without a filter are excluded.
 */
final class FiltersInSeries {

  /** Time constants of the second filter, s, and ratios of the first one's to it. */
  private static final double[] SECONDS = {0.03, 0.045, 0.06, 0.08, 0.1, 0.125, 0.16, 0.2, 0.25};

  private static final double[] RATIOS = {0.5, 1};

  /**
   * Mean squared correlation of throttle changes with the innovations above which two filters in
   * series are tried; they are used if they reduce it to less than {@link #BETTER_SHARE} of its
   * value. On flights logged 50 times per second, it is 0.001 to 0.016 for a single filter or a
   * moving average that was identified correctly, and 0.026 to 0.09 for two filters identified as
   * one.
   */
  private static final double SUSPECT_CORRELATION = 0.02;

  private static final double BETTER_SHARE = 0.5;

  /**
   * Longest interval of readings, s: that correlation is higher for sparser readings in any case.
   */
  private static final double FAST_INTERVAL = 0.06;

  private int candidate;
  private double longest;
  private double bestCorrelation;

  /**
   * Sets up the first candidate if two filters are suspected.
   *
   * @param best the most likely single filter
   * @param correlation the correlation of throttle changes with its innovations
   * @param freshInterval mean interval between fresh readings, s
   * @return false if two filters need not be tried
   */
  boolean start(TimingPoint best, double correlation, double freshInterval, TimingPoint trial) {
    longest = Math.min(best.seconds(TimingPoint.VOLTS), best.seconds(TimingPoint.AMPS));
    boolean suspect = correlation > SUSPECT_CORRELATION && freshInterval < FAST_INTERVAL;
    if (!suspect || longest < SECONDS[0]) {
      return false;
    }
    bestCorrelation = BETTER_SHARE * correlation;
    candidate = 0;
    set(trial);
    return true;
  }

  /**
   * Sets up the next candidate.
   *
   * @param correlation the correlation with the last one
   * @param best replaced by the last one if that is better
   * @return false if there is none
   */
  boolean next(double correlation, TimingPoint best, TimingPoint trial) {
    double both = trial.seconds(TimingPoint.VOLTS) + trial.seconds(TimingPoint.COMMAND_LAG);
    if (correlation < bestCorrelation && both < longest) {
      bestCorrelation = correlation;
      best.copy(trial);
    }
    candidate++;
    if (candidate == SECONDS.length * RATIOS.length) {
      return false;
    }
    set(trial);
    return true;
  }

  private void set(TimingPoint trial) {
    double seconds = SECONDS[candidate / RATIOS.length];
    trial.setFilters(seconds);
    trial.setSeconds(TimingPoint.COMMAND_LAG, RATIOS[candidate % RATIOS.length] * seconds);
  }
}
