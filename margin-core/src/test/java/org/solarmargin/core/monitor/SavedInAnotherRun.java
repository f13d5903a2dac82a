package org.solarmargin.core.monitor;

import java.nio.file.Files;
import java.nio.file.Path;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;

/** A program of its own that flies for five seconds and saves the monitor's state to a file. */
final class SavedInAnotherRun {

  private SavedInAnotherRun() {}

  public static void main(String[] args) throws Exception {
    MarginMonitor monitor =
        new MarginMonitor(TestCraft.SETTINGS, AlertRules.DEFAULT, (t, l, r, w, m, z) -> {});
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 2);
    while (flight.seconds < 5) {
      flight.next();
      monitor.update(
          Math.round(flight.seconds * 1e9), flight.busVolts, flight.busAmps, flight.throttle);
    }
    byte[] state = new byte[MarginMonitor.STATE_BYTES];
    monitor.save(state);
    Files.write(Path.of(args[0]), state);
  }
}
