package org.solarmargin.examples;

import java.nio.file.Path;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

/**
 * Feed samples, act on alerts, hold the throttle under the ceiling.
 *
 * <p>Expect a fade that would end past the knee to end in a slow sink instead: ADVISORY, CAUTION
 * and WARNING on the way, and "past the knee: 0 samples" at the end. In a craft the samples come
 * from the flight controller; here they come from the simulator.
 */
public final class HoldTheCeiling {

  private HoldTheCeiling() {}

  /**
   * Flies.
   *
   * @param args profile and scenario
   * @throws Exception if a file cannot be read
   */
  public static void main(String[] args) throws Exception {
    CraftProfile craft = CraftProfile.read(Path.of(args[0]));
    Scenario scenario = Scenario.read(Path.of(args[1]), craft);

    MarginMonitor monitor =
        new MarginMonitor(
            craft.settings(),
            craft.rules(),
            (time, level, raised, reason, marginPercent, secondsToZero) ->
                System.out.printf("%6.1f s %s %s%n", time * 1e-9, level, raised ? reason : "-"));
    MarginReading reading = monitor.reading();
    int[] pastKnee = {0};

    new Flight(new SetupMaker(scenario, craft).asStated(1), 1)
        .fly(
            sample -> {
              long nanos = Math.round(sample.seconds * 1e9);
              monitor.update(nanos, sample.busVolts, sample.busAmps, sample.throttle);
              pastKnee[0] += reading.status() == Status.PAST_KNEE ? 1 : 0;
              boolean known = reading.status() != Status.WARMING_UP && monitor.airborne();
              return known ? 0.98 * reading.throttleCeiling() : 1;
            });
    System.out.printf("past the knee: %d samples%n", pastKnee[0]);
  }
}
