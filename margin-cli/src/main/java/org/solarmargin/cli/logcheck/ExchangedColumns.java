package org.solarmargin.cli.logcheck;

import java.util.Locale;
import java.util.Optional;
import org.solarmargin.core.estimator.EstimatorSettings.Rotor;

/**
 * Interchanged volts and amperes. If the two differ by a factor of three or more in the profile's
 * hover, the levels decide: their ratio is inverted while their product is not. Otherwise the signs
 * decide: with more throttle an array's voltage falls and its current rises. The thresholds are
 * engineering judgement, checked by {@code LogChecksTest}.
 */
final class ExchangedColumns implements LogCheck {

  private static final double CLEAR_RATIO = 3;
  private static final double POWER_FACTOR = 2.5;
  private static final double CLEAR_CORRELATION = 0.5;

  private final double hoverVolts;
  private final double hoverAmps;
  private final Moments levels = new Moments();
  private final Moments voltsByThrottle = new Moments();
  private final Moments ampsByThrottle = new Moments();

  ExchangedColumns(Rotor rotor) {
    hoverVolts = rotor.hoverBusVolts();
    hoverAmps = rotor.hoverWatts() / rotor.hoverBusVolts();
  }

  @Override
  public void take(FlightBlock block, FlightBlock before) {
    levels.add(block.volts(), block.amps());
    if (before != null) {
      double throttle = block.throttle() - before.throttle();
      voltsByThrottle.add(throttle, block.volts() - before.volts());
      ampsByThrottle.add(throttle, block.amps() - before.amps());
    }
  }

  @Override
  public Optional<Finding> finding() {
    if (levels.count() < LEAST_BLOCKS || !(levels.meanX() > 0 && levels.meanY() > 0)) {
      return Optional.empty();
    }
    double expected = Math.log(hoverVolts / hoverAmps);
    boolean exchanged = Math.abs(expected) >= Math.log(CLEAR_RATIO) ? byLevel(expected) : bySign();
    return exchanged
        ? Optional.of(
            new Finding(
                String.format(
                    Locale.ROOT,
                    "bus_v and bus_a look interchanged: %.1f V and %.1f A in flight",
                    levels.meanX(),
                    levels.meanY()),
                "map each to the other's header with --column bus_v=HEADER --column bus_a=HEADER",
                true))
        : Optional.empty();
  }

  private boolean byLevel(double expected) {
    double turned = Math.log(levels.meanX() / levels.meanY()) / expected;
    double power = levels.meanX() * levels.meanY() / (hoverVolts * hoverAmps);
    return turned > -2 && turned < -0.5 && power > 1 / POWER_FACTOR && power < POWER_FACTOR;
  }

  private boolean bySign() {
    return voltsByThrottle.count() >= LEAST_BLOCKS
        && voltsByThrottle.correlation() > CLEAR_CORRELATION
        && ampsByThrottle.correlation() < -CLEAR_CORRELATION;
  }
}
