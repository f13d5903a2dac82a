package org.solarmargin.sim.flight;

/**
 * A throttle that is opened by hand while the craft is held down: at idle until the start, then
 * linearly up to the top, and back to idle. The height control is off.
 *
 * @param startSeconds when the throttle begins to rise, s
 * @param riseSeconds duration of the rise, s
 * @param top highest throttle, 0 to 1; 0 for no ramp
 */
public record ThrottleRamp(double startSeconds, double riseSeconds, double top) {

  /** No ramp: the craft flies its heights. */
  public static final ThrottleRamp NONE = new ThrottleRamp(0, 1, 0);

  private static final double FALL_SECONDS = 1;

  /**
   * Whether there is a ramp; the craft is then held on the ground all the time.
   *
   * @return false if the craft flies
   */
  public boolean present() {
    return top > 0;
  }

  /** Throttle at a time, s; it starts and ends at idle. */
  double throttle(double time, double idle) {
    double since = time - startSeconds;
    double up = Math.min(Math.max(since / riseSeconds, 0), 1);
    double down = Math.min(Math.max((since - riseSeconds) / FALL_SECONDS, 0), 1);
    return idle + Math.max(top - idle, 0) * (up - down);
  }
}
