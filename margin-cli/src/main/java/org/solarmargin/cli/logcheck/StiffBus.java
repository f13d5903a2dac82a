package org.solarmargin.cli.logcheck;

import java.util.Optional;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.cell.Physics;
import org.solarmargin.core.estimator.EstimatorSettings;

/**
 * A bus voltage that moves less with the current than these cells can: a battery, a converter or a
 * dead voltage sensor. From second to second the voltage of a string moves by at least its
 * differential resistance times the current, which at any current is more than n k T / (q Iph) a
 * cell, series resistance left out (single-diode equation). 1.2 suns at 25 degrees Celsius stand
 * for the brightest flight. {@code LogChecksTest} holds a battery of 30 mohm below this bound, and
 * the demo flights above it, also with both readings or one of them filtered by a second.
 */
final class StiffBus implements LogCheck {

  /** Fewer than other checks need: what cells cannot do, they cannot do for four seconds either. */
  private static final int LEAST_MOVES = 4;

  private static final double BRIGHT_SUNS = 1.2;
  private static final double LEAST_MOVE = 0.02;
  private static final double NOISES = 3;

  private final double leastOhms;
  private final double noiseAmps;
  private final Moments levels = new Moments();
  private final Moments moves = new Moments();
  private long samples;

  StiffBus(EstimatorSettings settings) {
    CellParameters cell = settings.cell();
    double thermalVolts = Physics.BOLTZMANN_VOLTS_PER_KELVIN * Physics.REFERENCE_KELVIN;
    leastOhms =
        settings.seriesCells()
            * cell.ideality()
            * thermalVolts
            / (BRIGHT_SUNS * cell.photocurrentAmps() * settings.parallelStrings());
    noiseAmps = settings.sensors().currentNoiseAmps();
  }

  @Override
  public void take(FlightBlock block, FlightBlock before) {
    levels.add(block.volts(), block.amps());
    samples += block.samples();
    if (before != null) {
      moves.add(block.amps() - before.amps(), block.volts() - before.volts());
    }
  }

  @Override
  public Optional<Finding> finding() {
    if (moves.count() < LEAST_MOVES) {
      return Optional.empty();
    }
    double amps = moves.deviationX();
    double noise = noiseAmps * Math.sqrt(2.0 * levels.count() / samples);
    boolean moved = amps > LEAST_MOVE * Math.abs(levels.meanY()) && amps > NOISES * noise;
    return moved && moves.deviationY() < leastOhms * amps
        ? Optional.of(
            new Finding(
                "bus_v hardly moves with bus_a: a battery on the bus, not cells alone",
                "check what bus_v measures: estimates need solar cells straight on the motor bus",
                true))
        : Optional.empty();
  }
}
