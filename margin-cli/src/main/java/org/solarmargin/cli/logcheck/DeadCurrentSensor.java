package org.solarmargin.cli.logcheck;

import java.util.Optional;
import org.solarmargin.core.estimator.EstimatorSettings.Rotor;

/**
 * A bus current that hardly moves while the throttle does. A craft's current moves in proportion to
 * its throttle at least: at constant power it goes with the throttle (the voltage falls), at
 * constant voltage about with its cube. A quarter of that proportion leaves room for filtered
 * readings and for the light that limits the current near the knee (our choice, {@code
 * LogChecksTest}); a mean under a tenth of the hover's current is no current either.
 */
final class DeadCurrentSensor implements LogCheck {

  private static final double LEAST_THROTTLE_MOVE = 0.01;
  private static final double LEAST_SHARE = 0.25;
  private static final double NOTHING = 0.1;

  private final double hoverAmps;
  private final Moments levels = new Moments();

  DeadCurrentSensor(Rotor rotor) {
    hoverAmps = rotor.hoverWatts() / rotor.hoverBusVolts();
  }

  @Override
  public void take(FlightBlock block, FlightBlock before) {
    levels.add(block.throttle(), block.amps());
  }

  @Override
  public Optional<Finding> finding() {
    if (levels.count() < LEAST_BLOCKS) {
      return Optional.empty();
    }
    double throttle = levels.deviationX() / levels.meanX();
    double amps = levels.deviationY() / hoverAmps;
    boolean still = throttle >= LEAST_THROTTLE_MOVE && amps < LEAST_SHARE * throttle;
    boolean nothing = Math.abs(levels.meanY()) < NOTHING * hoverAmps;
    return still || nothing
        ? Optional.of(
            new Finding(
                "bus_a hardly moves while the throttle does: no current sensor",
                "check the current sensor, and its unit with --column bus_a=HEADER:UNIT",
                true))
        : Optional.empty();
  }
}
