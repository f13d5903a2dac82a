package org.solarmargin.core.estimator;

import org.solarmargin.core.lag.FirstOrderLag;

/**
 * Tells a burst of outliers, which nothing can be learned from, from the single ones of spikes,
 * edges of clouds and steps of the load.
 *
 * <p>Simulated flights with their cloud edges, gusts, losses and rough sensors have at most 6
 * outliers in a second at 50 readings a second; readings that are not of this craft have 8 and more
 * ({@code OutlierWatchTest}).
 */
final class OutlierWatch {

  private static final double MEMORY_SECONDS = 1;

  /** Share of outliers from which there is a burst, and under which it has ended. */
  private static final double BURST_SHARE = 0.15;

  private static final double QUIET_SHARE = 0.02;

  /**
   * A burst that goes on for so long, s, has thrown the filter itself off: good readings look like
   * outliers to it. No flight of the simulator has a burst at all; longer than the attacks of 8 s
   * that {@code AttackRecoveryTest} makes, in which it would return to the state before too soon.
   */
  private static final double LONGEST_SECONDS = 10;

  private static final double KEEP_SHARE = 0.005;

  /** At slow rates a share alone would call a single spike a burst. */
  private static final int LEAST = 8;

  private final FirstOrderLag memory = new FirstOrderLag(MEMORY_SECONDS);
  private double share;
  private int count;
  private boolean burst;
  private double burstSeconds;

  void reset() {
    burstSeconds = 0;
    share = 0;
    count = 0;
    burst = false;
  }

  /**
   * Takes one sample.
   *
   * @param step since the last, s
   * @return true if a burst has ended with it, or has gone on for too long
   */
  boolean follow(double step, boolean outlier) {
    share += memory.share(step) * ((outlier ? 1 : 0) - share);
    count = outlier ? count + 1 : count;
    burstSeconds = burst ? burstSeconds + step : 0;
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

  /** No outlier in the last second and more: no burst has begun, what is believed may be kept. */
  boolean quiet() {
    return share < KEEP_SHARE;
  }

  /** Whether there is a burst. */
  boolean burst() {
    return burst;
  }
}
