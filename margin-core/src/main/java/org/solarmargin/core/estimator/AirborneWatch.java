package org.solarmargin.core.estimator;

/** On the ground or in the air, as the throttle has it. */
final class AirborneWatch {

  private static final double AIRBORNE_SHARE = 0.4;
  private static final double LANDED_SECONDS = 0.5;
  private static final double NANOS = 1e-9;

  private final double airborneThrottle;

  private long lastNanos;
  private double lowSeconds;
  private boolean airborne;
  private double seconds;

  AirborneWatch(double hoverThrottle) {
    airborneThrottle = AIRBORNE_SHARE * hoverThrottle;
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

  /** In the air from the first command above 40 % of the hover throttle until 0.5 s below it. */
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
