package org.solarmargin.cli.logcheck;

import java.util.Optional;
import org.solarmargin.core.estimator.EstimatorSettings.Rotor;

/**
 * A bus current that hardly changes while the throttle does. A craft's current changes at least in
 * proportion to its throttle: about in proportion at constant power (the voltage falls), about with
 * the cube at constant voltage. The threshold is a quarter of that proportion, which allows for
 * filtered readings and for light that limits the current near the knee (engineering judgement,
 * checked by {@code LogChecksTest}). A mean current below a tenth of that in hover also counts as
 * no current.
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
                "bus_a hardly changes while the throttle does: no current sensor",
                "check the current sensor, and its unit with --column bus_a=HEADER:UNIT",
                true))
        : Optional.empty();
  }
}
