package org.solarmargin.examples;

import java.nio.file.Path;
import org.solarmargin.core.estimator.MarginSnapshot;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.flight.FlightSample;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

/**
 * A ground station: one thread feeds the monitor as telemetry arrives, another updates the display.
 *
 * <p>The display thread only calls {@code snapshot()}, which copies one complete reading and never
 * makes the feeding thread wait. Expect some lines of status and margin with consistent figures:
 * the lower bound is never above the available power.
 */
public final class GroundStation {

  /** The displayed figures; W except for the status. */
  record Display(String status, double available, double low, double margin) {

    static Display of(MarginSnapshot s) {
      double margin = s.availableLowWatts() - s.demandWatts();
      return new Display(s.status().toString(), s.availableWatts(), s.availableLowWatts(), margin);
    }

    @Override
    public String toString() {
      return "%-12s %6.1f W, at least %6.1f W, margin %6.1f W"
          .formatted(status, available, low, margin);
    }
  }

  private GroundStation() {}

  /**
   * Runs both threads until the flight ends.
   *
   * @param args profile and scenario
   * @throws Exception if a file cannot be read, or the program is interrupted
   */
  public static void main(String[] args) throws Exception {
    CraftProfile craft = CraftProfile.read(Path.of(args[0]));
    Scenario scenario = Scenario.read(Path.of(args[1]), craft);
    MarginMonitor monitor =
        new MarginMonitor(craft.settings(), craft.rules(), (t, l, raised, why, m, z) -> {});
    Flight link = new Flight(new SetupMaker(scenario, craft).asStated(1), 1);
    Thread feeding = new Thread(() -> link.fly(s -> take(monitor, s)));
    feeding.start();
    do {
      feeding.join(20);
      System.out.println(Display.of(monitor.snapshot()));
    } while (feeding.isAlive());
  }

  private static double take(MarginMonitor monitor, FlightSample s) {
    monitor.update(Math.round(s.seconds * 1e9), s.busVolts, s.busAmps, s.throttle);
    return 1; // a ground station does not limit the throttle
  }
}
