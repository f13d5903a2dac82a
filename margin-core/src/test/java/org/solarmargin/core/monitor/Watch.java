package org.solarmargin.core.monitor;

import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.gate.Verdict;

/** A monitor of the test craft, and how it is fed. */
final class Watch {

  private Watch() {}

  static MarginMonitor monitor() {
    return new MarginMonitor(
        TestCraft.SETTINGS, AlertRules.DEFAULT, (t, level, raised, why, margin, toZero) -> {});
  }

  /** Moves the flight on by one sample and shows it to the monitor. */
  static Verdict feed(MarginMonitor monitor, TestFlight flight) {
    flight.next();
    return monitor.update(
        Math.round(flight.seconds * 1e9), flight.busVolts, flight.busAmps, flight.throttle);
  }
}
