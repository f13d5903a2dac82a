package org.solarmargin.cli.flightevent;

import org.solarmargin.sim.flight.LossOfLift;

/**
 * A condition with a minimum duration: shorter episodes do not count, and two episodes in close
 * succession are one.
 */
public final class Episode {

  /** Receives each episode when it has ended. */
  @FunctionalInterface
  public interface Listener {
    /**
     * An episode has ended.
     *
     * @param start s
     * @param end s
     * @param longEnough whether it lasted long enough to count
     */
    void ended(double start, double end, boolean longEnough);
  }

  private static final double REJOIN_SECONDS = 1;

  private final double leastSeconds;
  private final double rejoinSeconds;
  private final Listener listener;
  private double start = Double.NaN;
  private double last = Double.NaN;

  /**
   * A condition not yet met.
   *
   * @param leastSeconds minimum duration, s
   * @param rejoinSeconds gaps up to this long do not end an episode, s
   * @param listener receives each episode
   */
  public Episode(double leastSeconds, double rejoinSeconds, Listener listener) {
    this.leastSeconds = leastSeconds;
    this.rejoinSeconds = rejoinSeconds;
    this.listener = listener;
  }

  /**
   * A loss of lift: it lasts at least 0.3 s, and interruptions of up to 1 s do not end it.
   *
   * @param listener receives each episode
   * @return a condition not yet met
   */
  public static Episode loss(Listener listener) {
    return new Episode(LossOfLift.SECONDS, REJOIN_SECONDS, listener);
  }

  /**
   * Updates the condition.
   *
   * @param seconds time, s, rising
   * @param on whether it is met
   * @return true if this sample begins an episode
   */
  public boolean follow(double seconds, boolean on) {
    if (on) {
      boolean begins = Double.isNaN(start);
      start = begins ? seconds : start;
      last = seconds;
      return begins;
    }
    if (seconds - last > rejoinSeconds) {
      finish();
    }
    return false;
  }

  /** Ends a current episode at the end of a log. */
  public void finish() {
    if (!Double.isNaN(start)) {
      listener.ended(start, last, last - start >= leastSeconds);
      start = Double.NaN;
      last = Double.NaN;
    }
  }
}
