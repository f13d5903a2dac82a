package org.solarmargin.core.limiter;

import org.solarmargin.core.estimator.MarginReading;

/**
 * Holds the throttle under the estimator's ceiling. In too little light a height loop then lets the
 * craft sink slowly; without a limit it opens the throttle past the knee, where lift is lost within
 * a second. Call {@link #cap} after each update of the monitor and give the motors no more than
 * that: {@code Math.min(wanted, cap)}.
 *
 * <p><b>Rule.</b> {@code cap = ceiling x (low / available)^(0.35 / 2)}, with the ceiling, the lower
 * bound and the available power of the reading: the throttle that draws the geometric mean of the
 * estimate and its lower bound. In steady state throttle goes with the 0.35th power of the motors'
 * power: shaft power goes with the cube of the rotor's speed (affinity law of propellers, any
 * handbook of fans and pumps), which makes 0.33, and the copper loss adds the rest ({@link
 * org.solarmargin.core.rotor.RotorLoad}; 0.346 at a copper share of 6 %). Half the way to the bound
 * is a choice: at the estimate itself every second error would carry the craft past the knee; at
 * the bound, the wide interval of a lightly loaded array would take away lift that is there.
 *
 * <p><b>Claim.</b> Simulated flights of eight scenarios, fifty of each: 6 losses with this limiter
 * instead of 141 without ({@code trial --limiter both}, the command is in the README). {@code
 * ThrottleLimiterTest} holds the rule, {@code TrialRunnerTest} its effect on slow fades. It is
 * advisory and not certified; it cannot help where the light falls faster than the rotors slow
 * down, nor where a shadow on a few cells is not seen in time.
 *
 * <p>Reads no clock, allocates nothing after construction, never throws on a reading. For one
 * thread, the one that feeds the monitor.
 */
public final class ThrottleLimiter {

  private static final double THROTTLE_EXPONENT = 0.35;
  private static final double HALF_BOUND = 0.5;

  private double last = 1;

  /** A limiter that has not limited yet: its cap is 1. */
  public ThrottleLimiter() {}

  /** Back to the state after construction. */
  public void reset() {
    last = 1;
  }

  /**
   * Highest throttle to give.
   *
   * <p>In the air the cap follows readings that bear a margin, see {@link
   * org.solarmargin.core.estimator.Status#bearsMargin()}; while others come (warming up, samples
   * refused) the last cap stays. On the ground there is no limit, so that a take-off begins with
   * none until its estimate is warm.
   *
   * @param reading the latest reading, not null; left as it is
   * @param airborne whether the rotors carry the craft, as {@code MarginMonitor.airborne()} says
   * @return 0 to 1, never NaN; 1 is no limit
   */
  public double cap(MarginReading reading, boolean airborne) {
    if (airborne && reading.status().bearsMargin()) {
      double available = reading.availableWatts();
      // without any power there is no ratio, and nothing to give
      double share = available > 0 ? reading.availableLowWatts() / available : 0;
      // StrictMath.pow allocates (96 bytes a call in OpenJDK 17)
      last = reading.throttleCeiling() * Math.pow(share, THROTTLE_EXPONENT * HALF_BOUND);
    } else if (!airborne) {
      last = 1;
    }
    return last;
  }

  /**
   * The cap given last, for a sample that did not come.
   *
   * @return 0 to 1
   */
  public double last() {
    return last;
  }
}
