package org.solarmargin.sim.flight;

/**
 * The definition of a loss by the true values of a flight, for trials, tuning and examples. The
 * limits are engineering judgement, not tuned.
 */
public final class LossOfLift {

  /**
   * The flight is past the knee if the true bus voltage is below this share of the first peak's.
   */
  public static final double KNEE_SHARE = 0.92;

  /** Flight past the knee is a loss if it lasts this long, s. */
  public static final double SECONDS = 0.3;

  /** Throttle above which the rotors carry the craft. */
  public static final double AIRBORNE_THROTTLE = 0.2;

  private LossOfLift() {}

  /**
   * Whether the array is past its knee.
   *
   * @param trueVolts bus voltage, V
   * @param peakVolts bus voltage of the first power peak, V
   * @return true if it is past the knee
   */
  public static boolean pastKnee(double trueVolts, double peakVolts) {
    return trueVolts < KNEE_SHARE * peakVolts;
  }
}
