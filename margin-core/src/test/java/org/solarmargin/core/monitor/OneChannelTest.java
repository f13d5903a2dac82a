package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.core.verdict.Verdict;

/** A sensor that gives nothing: the other one alone is no reading, whatever its time model. */
class OneChannelTest {

  private static final double NONE = Double.NaN;

  private final TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 2);

  private static MarginMonitor monitor(TimeModel timing) {
    return new MarginMonitor(
        TestCraft.SETTINGS.withTiming(timing),
        AlertRules.DEFAULT,
        (nanos, level, raised, reason, margin, toZero) -> {});
  }

  private void fly(MarginMonitor monitor, double seconds, boolean hasVolts, boolean hasAmps) {
    while (flight.seconds < seconds) {
      flight.next();
      monitor.update(
          Math.round(flight.seconds * 1e9),
          hasVolts ? flight.busVolts : NONE,
          hasAmps ? flight.busAmps : NONE,
          flight.throttle);
    }
  }

  private void assertNothingUsed(TimeModel timing, boolean volts) {
    MarginMonitor monitor = monitor(timing);
    fly(monitor, 4, volts, !volts);
    assertEquals(0, monitor.gate().count(Verdict.ACCEPTED));
    assertEquals(Status.NO_ESTIMATE, monitor.reading().status());
    long before = monitor.gate().samples();
    fly(monitor, 6, true, true);
    assertEquals(monitor.gate().samples() - before, monitor.gate().count(Verdict.ACCEPTED));
  }

  @ParameterizedTest
  @ValueSource(booleans = {false, true})
  void oneAloneIsNoReadingWhileTheTimingIsNotKnown(boolean volts) {
    assertNothingUsed(TimeModel.UNKNOWN, volts);
  }

  @Test
  void norIsItWithAStatedOne() {
    assertNothingUsed(TimeModel.SIMULTANEOUS, true);
  }
}
