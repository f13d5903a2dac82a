package org.solarmargin.sim.craft;

import org.solarmargin.sim.timing.CommandTiming;
import org.solarmargin.sim.timing.DelayLine;
import org.solarmargin.sim.timing.FilterShape;
import org.solarmargin.sim.timing.Response;

/** Delays and lags the commanded throttle to the one that acts on the motors. */
public final class MotorController {

  private final DelayLine delay;
  private final Response lag;

  /**
   * Creates a controller in steady state.
   *
   * @param timing delay and lag of the acting throttle
   * @param step step of the flight, s
   * @param throttle the steady throttle, 0 to 1
   */
  public MotorController(CommandTiming timing, double step, double throttle) {
    delay = new DelayLine(timing.delaySeconds(), step);
    lag = Response.of(FilterShape.FIRST_ORDER, timing.lagSeconds(), step);
    follow(throttle);
  }

  /**
   * Processes the command of one step; call it for each step.
   *
   * @param throttle throttle commanded from the start of the step to its end, 0 to 1
   * @return the throttle that acts at the start of the step, 0 to 1
   */
  public double follow(double throttle) {
    delay.push(throttle);
    return lag.follow(delay.held());
  }
}
