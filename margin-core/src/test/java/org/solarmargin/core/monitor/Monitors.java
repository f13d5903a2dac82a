package org.solarmargin.core.monitor;

import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.verdict.Verdict;

/** Monitors of the test craft, and feeding them. */
final class Monitors {

  private Monitors() {}

  static MarginMonitor monitor() {
    return new MarginMonitor(
        TestCraft.SETTINGS, AlertRules.DEFAULT, (t, level, raised, why, margin, toZero) -> {});
  }

  /** Advances the flight by one sample and feeds it to the monitor. */
  static Verdict feed(MarginMonitor monitor, TestFlight flight) {
    flight.next();
    return monitor.update(
        Math.round(flight.seconds * 1e9), flight.busVolts, flight.busAmps, flight.throttle);
  }
}
