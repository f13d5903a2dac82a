package org.solarmargin.sim.flight;

/**
 * A simple height control: a cascade from height error to climb rate and from climb rate error to
 * throttle, with an integral, and a throttle limited in range and rate. It does not take power into
 * account, so it opens the throttle past the knee. The gains are engineering judgement, not tuned.
 */
final class HeightLoop {

  static final double IDLE_THROTTLE = 0.06;
  private static final double RATE_PER_METRE = 0.8;
  private static final double CLIMB_LIMIT = 1.5;
  private static final double THROTTLE_PER_RATE = 0.07;
  private static final double THROTTLE_PER_METRE = 0.05;
  private static final double SLEW_PER_SECOND = 2.5;

  private double integral;
  private double throttle;

  HeightLoop(double trim, double throttle) {
    this.integral = trim;
    this.throttle = throttle;
  }

  /** The throttle for the next step; {@code cap} is the highest one allowed. */
  double step(double seconds, double wanted, double height, double climb, double cap) {
    double wantedClimb =
        Math.min(Math.max(RATE_PER_METRE * (wanted - height), -CLIMB_LIMIT), CLIMB_LIMIT);
    double error = wantedClimb - climb;
    double command = integral + THROTTLE_PER_RATE * error;
    boolean atTop = command >= Math.min(cap, 1) && error > 0;
    boolean atBottom = command <= IDLE_THROTTLE && error < 0;
    if (!atTop && !atBottom) {
      integral += THROTTLE_PER_METRE * error * seconds;
    }
    return slew(seconds, Math.min(command, cap));
  }

  /** The throttle for the next step without height control: rotors idle, stopped or on a ramp. */
  double rest(double seconds, double idle) {
    return slew(seconds, idle);
  }

  private double slew(double seconds, double command) {
    double limit = SLEW_PER_SECOND * seconds;
    double wanted = Math.min(Math.max(command, 0), 1);
    throttle += Math.min(Math.max(wanted - throttle, -limit), limit);
    return throttle;
  }
}
