package org.solarmargin.sim.flight;

/**
 * A throttle that somebody opens by hand while the craft is held down: at idle until the start,
 * then evenly up to the top, and back to idle. The height loop has no say meanwhile.
 *
 * @param startSeconds when the throttle begins to rise
 * @param riseSeconds how long it rises
 * @param top throttle reached, 0 to 1; 0 for no ramp
 */
public record ThrottleRamp(double startSeconds, double riseSeconds, double top) {

  /** No ramp: the craft flies its heights. */
  public static final ThrottleRamp NONE = new ThrottleRamp(0, 1, 0);

  private static final double FALL_SECONDS = 1;

  /**
   * Whether there is one; the craft is then held to the ground all the time.
   *
   * @return false if the craft flies
   */
  public boolean present() {
    return top > 0;
  }

  /** Throttle at a time, s, from and to idle. */
  double throttle(double time, double idle) {
    double since = time - startSeconds;
    double up = Math.min(Math.max(since / riseSeconds, 0), 1);
    double down = Math.min(Math.max((since - riseSeconds) / FALL_SECONDS, 0), 1);
    return idle + Math.max(top - idle, 0) * (up - down);
  }
}
