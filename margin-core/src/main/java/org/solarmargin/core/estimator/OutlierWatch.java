package org.solarmargin.core.estimator;

import org.solarmargin.core.lag.FirstOrderLag;

/**
 * Distinguishes a burst of outliers, which must not be learned from, from single outliers due to
 * spikes, edges of clouds and steps of the load.
 *
 * <p>Simulated flights with their cloud edges, gusts, losses and rough sensors have at most 6
 * outliers in a second at 50 readings per second; readings that do not belong to the craft have 8
 * or more ({@code OutlierWatchTest}).
 */
final class OutlierWatch {

  private static final double MEMORY_SECONDS = 1;

  /** Share of outliers above which there is a burst; below {@link #QUIET_SHARE} it has ended. */
  private static final double BURST_SHARE = 0.15;

  private static final double QUIET_SHARE = 0.02;

  /**
   * Longest burst, s: after this time the filter itself must be wrong, so that valid readings
   * appear as outliers. No simulated flight has a burst at all. It is longer than the attacks of 8
   * s in {@code AttackRecoveryTest}, during which the earlier state would otherwise be restored too
   * soon.
   */
  private static final double LONGEST_SECONDS = 10;

  private static final double KEEP_SHARE = 0.005;

  /** Least number of outliers: at low rates, a single spike would exceed the share. */
  private static final int LEAST = 8;

  private final FirstOrderLag memory = new FirstOrderLag(MEMORY_SECONDS);
  private float share;
  private int count;
  private boolean burst;
  private float burstSeconds;

  void reset() {
    burstSeconds = 0;
    share = 0;
    count = 0;
    burst = false;
  }

  /**
   * Processes one sample.
   *
   * @param step time since the last sample, s
   * @return true if a burst has ended with it or has lasted too long
   */
  boolean follow(double step, boolean outlier) {
    share += (float) (memory.share(step) * ((outlier ? 1 : 0) - share));
    count = outlier ? count + 1 : count;
    burstSeconds = burst ? burstSeconds + (float) step : 0;
    if (share < QUIET_SHARE || burstSeconds > LONGEST_SECONDS) {
      boolean ended = burst;
      count = 0;
      burst = false;
      burstSeconds = 0;
      return ended;
    }
    burst |= share > BURST_SHARE && count >= LEAST;
    return false;
  }

  /** Whether there have been no recent outliers, so that the state may be saved. */
  boolean quiet() {
    return share < KEEP_SHARE;
  }

  /** Whether there is a burst. */
  boolean burst() {
    return burst;
  }
}
