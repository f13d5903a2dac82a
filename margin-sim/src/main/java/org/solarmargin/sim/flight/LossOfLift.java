package org.solarmargin.sim.flight;

/** When a flight counts as lost by its truth: one definition for trials, tuning and examples. */
public final class LossOfLift {

  /** Past the knee: the true bus voltage is under this share of the first peak's. */
  public static final double KNEE_SHARE = 0.92;

  /** It is a loss if it lasts so long, s; shorter is a touch. */
  public static final double SECONDS = 0.3;

  /** Throttle above which the rotors carry the craft. */
  public static final double AIRBORNE_THROTTLE = 0.2;

  private LossOfLift() {}

  /**
   * Whether the array is past its knee.
   *
   * @param trueVolts bus voltage, V
   * @param peakVolts bus voltage of the first power peak, V
   * @return true if so
   */
  public static boolean pastKnee(double trueVolts, double peakVolts) {
    return trueVolts < KNEE_SHARE * peakVolts;
  }
}
