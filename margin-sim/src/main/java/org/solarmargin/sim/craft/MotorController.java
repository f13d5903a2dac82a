package org.solarmargin.sim.craft;

import org.solarmargin.sim.timing.CommandTiming;
import org.solarmargin.sim.timing.DelayLine;
import org.solarmargin.sim.timing.FilterShape;
import org.solarmargin.sim.timing.Response;

/** Takes the commanded throttle to the one that acts on the motors, later and lagged. */
public final class MotorController {

  private final DelayLine delay;
  private final Response lag;

  /**
   * A controller that has followed one throttle for long.
   *
   * @param timing how the acting throttle follows
   * @param step of the flight, s
   * @param throttle the throttle so far, 0 to 1
   */
  public MotorController(CommandTiming timing, double step, double throttle) {
    delay = new DelayLine(timing.delaySeconds(), step);
    lag = Response.of(FilterShape.FIRST_ORDER, timing.lagSeconds(), step);
    follow(throttle);
  }

  /**
   * Follows the command; call each step.
   *
   * @param throttle commanded from the start of the step to its end, 0 to 1
   * @return the throttle that acts at the start of the step, 0 to 1
   */
  public double follow(double throttle) {
    delay.push(throttle);
    return lag.follow(delay.held());
  }
}
