package org.solarmargin.core.estimator;

/**
 * Recognises a filter that has converged to a wrong state, by normalised innovations that stay far
 * above those of any valid state (Y. Bar-Shalom, X. R. Li and T. Kirubarajan, "Estimation with
 * Applications to Tracking and Navigation", 2001, section 5.4: the test of filter consistency).
 *
 * <p>In simulated flights, with their losses, shadows and unknown loggers, the mean over three
 * seconds does not exceed the limit ({@code ConsistencyLimitTest} in margin-sim).
 */
final class ConsistencyWatch {

  /** Lag of the mean, s. */
  private static final double MEAN_SECONDS = 3;

  /** Mean normalised innovation, 2 of a valid filter, above which the filter is inconsistent. */
  private static final double LIMIT = 8;

  /** Greatest innovation that counts, so that a single outlier is not enough. */
  private static final double LARGEST = 30;

  /**
   * Time above the limit until the filter is given up, s: longer than invalid readings usually
   * last, because the state before them is to be kept.
   */
  private static final double LASTING_SECONDS = 10;

  /** Time for which a sample counts at most, s: nothing is known of a gap before it. */
  private static final double LONGEST_STEP_SECONDS = 0.5;

  private static final float EXPECTED = 2;

  private float mean;
  private float seconds;

  ConsistencyWatch() {
    reset();
  }

  void reset() {
    mean = EXPECTED;
    seconds = 0;
  }

  /**
   * Processes one sample.
   *
   * @param step time since the last sample, s
   * @param innovation its normalised innovation squared, of voltage and current
   * @return true if the filter must be reinitialised
   */
  boolean follow(double step, double innovation) {
    double counted = Math.min(step, LONGEST_STEP_SECONDS);
    mean += (float) (counted / MEAN_SECONDS * (Math.min(innovation, LARGEST) - mean));
    seconds = mean > LIMIT ? seconds + (float) counted : 0;
    if (seconds <= LASTING_SECONDS) {
      return false;
    }
    reset();
    return true;
  }
}
