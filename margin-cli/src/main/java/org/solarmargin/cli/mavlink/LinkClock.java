package org.solarmargin.cli.mavlink;

/**
 * Reconstructs the vehicle's clock at the receiving end of a link. Messages with a boot time stamp
 * show how far their arrival lags behind it; the smallest recent lag is attributed to the link and
 * dates messages without a stamp. After a restart or a wrap of the boot clock, the reconstructed
 * time continues.
 */
final class LinkClock {

  /**
   * Rate at which the smallest lag may grow, to allow for clock drift: common practice, no source.
   */
  private static final double SKEW = 1e-4;

  /** A stamp earlier than the last by more than this indicates a restart of the boot clock, s. */
  private static final double RESTART = 5;

  /** Stamps in a row that lag by more than this show that the receiver's clock jumped, s. */
  private static final double JUMP = 10;

  private static final int AGREEING = 3;

  private double shift;
  private double lastBoot = Double.NaN;
  private double lag = Double.NaN;
  private double lastArrival;
  private int late;
  private long restarts;

  /**
   * Processes a time stamp.
   *
   * @param boot the stamp, s
   * @param arrival time of arrival, s of the local clock
   * @return the flight's time, s
   */
  double stamped(double boot, double arrival) {
    boolean restarted = boot < lastBoot - RESTART;
    if (restarted) {
      restarts++;
      shift = unstamped(arrival) - boot;
      lag = Double.NaN;
    }
    lastBoot = restarted || Double.isNaN(lastBoot) ? boot : Math.max(lastBoot, boot);
    double grown = lag + SKEW * Math.max(arrival - lastArrival, 0);
    double now = arrival - (boot + shift);
    late = now > grown + JUMP ? late + 1 : 0;
    lag = Double.isNaN(lag) || late >= AGREEING ? now : Math.min(grown, now);
    lastArrival = arrival;
    return boot + shift;
  }

  /**
   * The flight's time of a message without a stamp.
   *
   * @param arrival time of arrival, s of the local clock
   * @return s; the local clock before any stamp
   */
  double unstamped(double arrival) {
    return Double.isNaN(lag) ? arrival : arrival - lag;
  }

  /** Number of restarts of the boot clock. */
  long restarts() {
    return restarts;
  }
}
