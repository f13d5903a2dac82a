package org.solarmargin.core.estimator;

/** Whether the craft is on the ground or in the air, judged by the throttle. */
final class AirborneWatch {

  /** Time below that throttle after which it is on the ground, s: engineering judgement. */
  private static final double LANDED_SECONDS = 0.5;

  private static final double NANOS = 1e-9;

  private final double airborneThrottle;

  private long lastNanos;
  private double lowSeconds;
  private boolean airborne;
  private double seconds;

  AirborneWatch(EstimatorSettings.Rotor rotor) {
    airborneThrottle = rotor.airborneThrottle();
  }

  void reset() {
    resume(0, false, 0);
  }

  void resume(long nanos, boolean flies, double forSeconds) {
    lastNanos = nanos;
    lowSeconds = 0;
    airborne = flies;
    seconds = forSeconds;
  }

  /**
   * The craft is in the air from the first command of {@link
   * EstimatorSettings.Rotor#airborneThrottle()} until 0.5 s below it.
   */
  void follow(long nanos, double throttle) {
    double step = Math.max((nanos - lastNanos) * NANOS, 0);
    lastNanos = nanos;
    if (throttle >= airborneThrottle) {
      lowSeconds = 0;
      seconds = airborne ? seconds + step : 0;
      airborne = true;
      return;
    }
    lowSeconds += step;
    if (lowSeconds > LANDED_SECONDS) {
      airborne = false;
      seconds = 0;
    }
  }

  boolean airborne() {
    return airborne;
  }

  /** Time in the air, s; 0 on the ground. */
  double seconds() {
    return seconds;
  }
}
