package org.solarmargin.cli.mavlink;

/**
 * The flight's clock on the far side of a link. Messages with a stamp of the boot clock tell how
 * far arrival lags behind it; the least lag of late is the link's own, and gives the time of
 * messages without a stamp. A boot clock that starts anew, or wraps, goes on where it was.
 */
final class LinkClock {

  /** How fast the least lag may grow, for clocks that run apart: common practice, no source. */
  private static final double SKEW = 1e-4;

  /** A stamp so much earlier than the last is of a clock that has started anew, s. */
  private static final double RESTART = 5;

  private double shift;
  private double lastBoot = Double.NaN;
  private double lag = Double.NaN;
  private double lastArrival;
  private long restarts;

  /**
   * Takes a stamp.
   *
   * @param boot the stamp, s
   * @param arrival when it came, s of the local clock
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
    lag = Double.isNaN(lag) ? now : Math.min(grown, now);
    lastArrival = arrival;
    return boot + shift;
  }

  /**
   * The flight's time of a message without a stamp.
   *
   * @param arrival when it came, s of the local clock
   * @return s; the local clock's own before any stamp
   */
  double unstamped(double arrival) {
    return Double.isNaN(lag) ? arrival : arrival - lag;
  }

  /** How often it has started anew. */
  long restarts() {
    return restarts;
  }
}
