package org.solarmargin.sim.trial;

import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;

/**
 * Holds the throttle under the estimator's ceiling, so that a height loop sinks the craft slowly
 * instead of pulling it past the knee.
 *
 * <p>The ceiling is taken down to the lower bound of the available power; throttle goes with about
 * the 0.35th power of power. Before the estimate is warm there is no limit.
 */
public final class ThrottleLimiter {

  private static final double THROTTLE_EXPONENT = 0.35;
  private static final double HALF_BOUND = 0.5;

  private double last = 1;

  /** A limiter that has not limited yet. */
  public ThrottleLimiter() {}

  /**
   * Highest throttle to give.
   *
   * @param reading the latest reading
   * @param airborne whether the rotors carry the craft
   * @return 0 to 1
   */
  public double cap(MarginReading reading, boolean airborne) {
    Status status = reading.status();
    boolean known = status == Status.SHARP || status == Status.COARSE || status == Status.PAST_KNEE;
    if (airborne && known) {
      double share = reading.availableLowWatts() / reading.availableWatts();
      last = reading.throttleCeiling() * StrictMath.pow(share, THROTTLE_EXPONENT * HALF_BOUND);
    } else if (!airborne) {
      last = 1;
    }
    return last;
  }

  /**
   * The cap given last.
   *
   * @return 0 to 1
   */
  public double last() {
    return last;
  }
}
