package org.solarmargin.core.limiter;

import org.solarmargin.core.estimator.MarginReading;

/**
 * Keeps the throttle below the estimator's ceiling. In too little light the craft then sinks slowly
 * under its height control; without a limit the height control opens the throttle past the knee,
 * where lift is lost within a second. Call {@link #cap} after each update of the monitor and
 * command no more than that: {@code Math.min(wanted, cap)}.
 *
 * <p><b>Rule.</b> {@code cap = ceiling x (low / available)^(0.35 / 2)}, with the ceiling, the lower
 * bound and the available power of the reading: the throttle that draws the geometric mean of the
 * estimate and its lower bound. In steady state the throttle is proportional to the 0.35th power of
 * the motors' power: shaft power is proportional to the cube of the rotor speed (affinity law of
 * propellers, any handbook of fans and pumps), which gives an exponent of 0.33, and the copper loss
 * adds the rest ({@link org.solarmargin.core.rotor.RotorLoad}; 0.346 at a copper share of 6 %).
 * Halfway to the bound is engineering judgement: at the estimate itself, every second error would
 * take the craft past the knee; at the bound, the wide interval of a lightly loaded array would
 * take away lift that is available.
 *
 * <p><b>Claim.</b> In simulated flights of eight scenarios, fifty of each, none is lost with this
 * limiter and 141 without ({@code trial --limiter both}, the command is in the README). {@code
 * ThrottleLimiterTest} checks the rule, {@code TrialRunnerTest} its effect on slow fades. It is
 * advisory and not certified. It cannot help if the light falls faster than the rotors slow down,
 * or if a shadow on a few cells is not detected in time.
 *
 * <p>It reads no clock, allocates nothing after construction and never throws on a reading. Call it
 * only from the thread that feeds the monitor.
 */
public final class ThrottleLimiter {

  private static final double THROTTLE_EXPONENT = 0.35;
  private static final double HALF_BOUND = 0.5;

  private double last = 1;

  /** Creates a limiter whose cap is 1. */
  public ThrottleLimiter() {}

  /** Returns to the state after construction. */
  public void reset() {
    last = 1;
  }

  /**
   * Highest throttle to command.
   *
   * <p>In the air the cap follows readings whose margin may be used, see {@link
   * org.solarmargin.core.estimator.Status#bearsMargin()}; other readings (warming up, samples
   * refused) keep the last cap. On the ground there is no limit, so that a take-off begins without
   * one until the estimate has warmed up.
   *
   * @param reading the latest reading, not null; it is not changed
   * @param airborne whether the rotors carry the craft, from {@code MarginMonitor.airborne()}
   * @return 0 to 1, never NaN; 1 is no limit
   */
  public double cap(MarginReading reading, boolean airborne) {
    if (airborne && reading.status().bearsMargin()) {
      double available = reading.availableWatts();
      // without available power there is no ratio, and the cap is 0
      double share = available > 0 ? reading.availableLowWatts() / available : 0;
      // StrictMath.pow allocates (96 bytes a call in OpenJDK 17)
      last = reading.throttleCeiling() * Math.pow(share, THROTTLE_EXPONENT * HALF_BOUND);
    } else if (!airborne) {
      last = 1;
    }
    return last;
  }

  /**
   * The last cap, for use while no sample arrives.
   *
   * @return 0 to 1
   */
  public double last() {
    return last;
  }
}
