package org.solarmargin.examples;

import java.nio.file.Path;
import org.solarmargin.core.limiter.ThrottleLimiter;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.flight.LossOfLift;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

/**
 * Feeds samples, prints alerts, and keeps the throttle below the ceiling.
 *
 * <p>Expect a fade that would end past the knee to end in a slow descent instead: ADVISORY, CAUTION
 * and WARNING on the way, and at the end "past the knee: 0 samples", judged by the true values of
 * the simulator (bus voltage below 92 % of the knee's). In a craft the samples come from the flight
 * controller; here they come from the simulator.
 */
public final class HoldTheCeiling {

  private HoldTheCeiling() {}

  /**
   * Flies the scenario.
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
    ThrottleLimiter limiter = new ThrottleLimiter();
    int[] pastKnee = {0};

    new Flight(new SetupMaker(scenario, craft).asStated(1), 1)
        .fly(
            sample -> {
              long nanos = Math.round(sample.seconds * 1e9);
              monitor.update(nanos, sample.busVolts, sample.busAmps, sample.throttle);
              pastKnee[0] += LossOfLift.pastKnee(sample.trueVolts, sample.peakVolts) ? 1 : 0;
              return limiter.cap(monitor.reading(), monitor.airborne());
            });
    System.out.printf("past the knee: %d samples%n", pastKnee[0]);
  }
}
