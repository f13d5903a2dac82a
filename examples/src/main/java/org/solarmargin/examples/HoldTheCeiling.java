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
 * and WARNING on the way, and at the end the longest time past the knee, judged by the true values
 * of the simulator (bus voltage below 92 % of the knee's). It is mostly 0; a gust may push the
 * craft past the knee for a moment, and a loss of lift begins at 0.3 s. In a craft the samples come
 * from the flight controller; here they come from the simulator.
 */
public final class HoldTheCeiling {

  private HoldTheCeiling() {}

  /**
   * Flies the scenario.
   *
   * @param args profile, scenario, and optionally the number of the flight, 1 if absent
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
    long number = args.length > 2 ? Long.parseLong(args[2]) : 1;
    double[] pastKnee = {0, 0};
    double[] last = {0};

    new Flight(new SetupMaker(scenario, craft).asStated(number), number)
        .fly(
            sample -> {
              long nanos = Math.round(sample.seconds * 1e9);
              monitor.update(nanos, sample.busVolts, sample.busAmps, sample.throttle);
              boolean past = LossOfLift.pastKnee(sample.trueVolts, sample.peakVolts);
              pastKnee[0] = past ? pastKnee[0] + sample.seconds - last[0] : 0;
              pastKnee[1] = Math.max(pastKnee[1], pastKnee[0]);
              last[0] = sample.seconds;
              return limiter.cap(monitor.reading(), monitor.airborne());
            });
    System.out.printf("longest time past the knee: %.2f s%n", pastKnee[1]);
  }
}
