package org.solarmargin.core.estimator;

/**
 * The candidates of the coarse scan of the search for the time model: first no filter and a current
 * that is early or late, then the filters without and with the best of these delays, then with as
 * much noise behind the filter as is stated before it, and last delays relative to the command for
 * the best of all. Its values are engineering judgement.
 */
final class TimingScan {

  /** Common filter time constants, s. */
  private static final double[] FILTERS = {0, 0.03, 0.06, 0.1, 0.16, 0.25, 0.4, 0.63, 1, 1.6};

  /** Delays of the current relative to the voltage, sample intervals. */
  private static final int[] AMPS_DELAYS = {-6, -5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6, 8};

  /** Delays of both relative to the command, sample intervals. */
  private static final int[] COMMAND_DELAYS = {1, 2, 3, 4, 6, 8};

  private static final int FROM_FILTERS = 1 + AMPS_DELAYS.length;
  private static final int FROM_DELAYED = FROM_FILTERS + FILTERS.length;
  private static final int FROM_NOISY = FROM_DELAYED + FILTERS.length;
  private static final int FROM_COMMANDS = FROM_NOISY + FILTERS.length;
  private static final int SCANS = FROM_COMMANDS + COMMAND_DELAYS.length;

  private double interval;
  private int scan;
  private double scanDelay;

  /**
   * Starts with the first candidate: no filter and no delay.
   *
   * @param intervalSeconds sample interval, s
   */
  void start(double intervalSeconds, TimingPoint trial) {
    interval = intervalSeconds;
    scan = 0;
    trial.setFilters(0);
  }

  /**
   * Sets up the next candidate.
   *
   * @param best the best candidate so far
   * @return false if there is none
   */
  boolean next(TimingPoint best, TimingPoint trial) {
    scan++;
    if (scan >= SCANS) {
      return false;
    }
    if (scan < FROM_FILTERS) {
      trial.setFilters(0);
      trial.set(TimingPoint.AMPS_DELAY, AMPS_DELAYS[scan - 1] * interval);
    } else if (scan < FROM_DELAYED) {
      scanDelay = scan == FROM_FILTERS ? best.get(TimingPoint.AMPS_DELAY) : scanDelay;
      trial.setFilters(FILTERS[scan - FROM_FILTERS]);
    } else if (scan < FROM_NOISY) {
      trial.setFilters(FILTERS[scan - FROM_DELAYED]);
      trial.set(TimingPoint.AMPS_DELAY, scanDelay);
    } else if (scan < FROM_COMMANDS) {
      trial.setFilters(FILTERS[scan - FROM_NOISY]);
      trial.set(TimingPoint.READOUT, 0);
    } else {
      trial.copy(best);
      trial.set(TimingPoint.COMMAND_DELAY, COMMAND_DELAYS[scan - FROM_COMMANDS] * interval);
    }
    return true;
  }
}
