package org.solarmargin.sim.flight;

/** The scale of the logged throttle, which the ceiling and a throttle limit use as well. */
final class LoggedThrottle {

  private final LogSpec log;
  private final double hover;

  LoggedThrottle(LogSpec log, double hover) {
    this.log = log;
    this.hover = hover;
  }

  /** A commanded throttle as it is logged: on the log's curve, limited to 1, rounded. */
  double logged(double command) {
    double value = curved(command);
    double step = log.throttleStep();
    return step <= 0 ? value : Math.min(step * Math.rint(value / step), 1);
  }

  /** A commanded throttle on the log's curve, limited to 1. */
  double curved(double command) {
    return Math.min(scaled(command, log.throttlePower()), 1);
  }

  /** The command that corresponds to a limit on the log's scale; 1 means no limit. */
  double command(double limit) {
    return limit >= 1 ? 1 : scaled(limit, 1 / log.throttlePower());
  }

  private double scaled(double value, double power) {
    return power == 1 ? value : hover * StrictMath.pow(value / hover, power);
  }
}
