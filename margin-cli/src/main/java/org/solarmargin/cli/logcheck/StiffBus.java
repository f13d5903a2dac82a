package org.solarmargin.cli.logcheck;

import java.util.Optional;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.cell.Physics;
import org.solarmargin.core.estimator.EstimatorSettings;

/**
 * A bus voltage that changes less with the current than solar cells can: a battery, a converter or
 * a dead voltage sensor. From second to second the voltage of a string changes by at least its
 * differential resistance times the change of the current. At any current that resistance exceeds n
 * k T / (q Iph) per cell, even without series resistance (single-diode equation). 1.2 suns at 25
 * degrees Celsius represent the brightest flight. {@code LogChecksTest} shows that a battery of 30
 * mohm is below this bound and that the demo flights are above it, also with one or both readings
 * filtered by a second.
 */
final class StiffBus implements LogCheck {

  /** Fewer than other checks need, because this bound is physical and holds at any time. */
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
                "bus_v hardly changes with bus_a: a battery is on the bus",
                "check what bus_v measures: estimates need solar cells straight on the motor bus",
                true))
        : Optional.empty();
  }
}
