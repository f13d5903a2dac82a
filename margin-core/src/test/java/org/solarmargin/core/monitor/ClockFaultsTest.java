package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.function.LongUnaryOperator;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertListener;
import org.solarmargin.core.alert.AlertReason;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.core.verdict.Verdict;

/** Clocks that jump, restart or stop do not disable the monitor. */
class ClockFaultsTest {

  private static final long HOUR = 3_600_000_000_000L;
  private static final EstimatorSettings SETTINGS =
      TestCraft.SETTINGS.withTiming(TimeModel.SIMULTANEOUS);

  private static final AlertListener IGNORED = (t, level, raised, reason, margin, zero) -> {};

  private boolean noData;
  private final MarginMonitor monitor =
      new MarginMonitor(
          SETTINGS,
          AlertRules.DEFAULT,
          (t, level, raised, reason, margin, zero) ->
              noData |= raised && reason == AlertReason.NO_DATA);

  /** Flies to a given time with stamps of a faulty clock; returns the number of refused samples. */
  private int fly(TestFlight flight, double end, LongUnaryOperator stamp) {
    int refused = 0;
    while (flight.seconds < end) {
      flight.next();
      long nanos = stamp.applyAsLong(Math.round(flight.seconds * 1e9));
      Verdict verdict = monitor.update(nanos, flight.busVolts, flight.busAmps, flight.throttle);
      refused += verdict.refused() ? 1 : 0;
    }
    return refused;
  }

  private void assertGood(TestFlight flight) {
    assertTrue(monitor.reading().status() != Status.SENSOR_FAULT);
    assertEquals(
        flight.availableWatts, monitor.reading().availableWatts(), 0.1 * flight.availableWatts);
  }

  /**
   * What was learned at wrong times may be wrong: the estimate is half a sigma lower for a while.
   */
  @Test
  void aStampOutOfOrderLowersTheEstimateAndARepeatedOneDoesNot() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    MarginMonitor undisturbed = new MarginMonitor(SETTINGS, AlertRules.DEFAULT, IGNORED);
    for (int i = 0; i < 1000; i++) {
      flight.next();
      long nanos = Math.round(flight.seconds * 1e9);
      undisturbed.update(nanos, flight.busVolts, flight.busAmps, flight.throttle);
      monitor.update(nanos, flight.busVolts, flight.busAmps, flight.throttle);
      if (i == 900) {
        monitor.update(nanos, flight.busVolts, flight.busAmps, flight.throttle);
        assertEquals(undisturbed.reading().availableWatts(), monitor.reading().availableWatts());
      } else if (i == 950) {
        monitor.update(nanos - 1, flight.busVolts, flight.busAmps, flight.throttle);
      }
    }
    double lower = monitor.reading().availableWatts() / undisturbed.reading().availableWatts();
    assertTrue(lower < 0.99 && lower > 0.96, "half of some 3 % lower: " + lower);
  }

  @Test
  void oneStampAnHourAheadIsOneSampleLost() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    fly(flight, 20, t -> t);
    assertEquals(1, fly(flight, 20.02, t -> t + HOUR));
    assertEquals(0, fly(flight, 30, t -> t));
    assertGood(flight);
  }

  @Test
  void aRestartedClockIsAcceptedAfterThreeSamples() {
    TestFlight flight = new TestFlight(t -> t < 40 ? 0.9 : 0.45, t -> 0.5, 50, 4);
    fly(flight, 20, t -> t);
    assertEquals(2, fly(flight, 35, t -> t - 20_000_000_000L));
    assertGood(flight);
    fly(flight, 40.5, t -> t - 20_000_000_000L);
    assertEquals(AlertLevel.WARNING, monitor.level(), "a lost string is warned of");
  }

  @Test
  void aClockThatStaysAnHourAheadIsAcceptedToo() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 5);
    fly(flight, 20, t -> t);
    assertEquals(2, fly(flight, 40, t -> t + HOUR));
    assertGood(flight);
  }

  @Test
  void aStoppedClockIsReportedAsNoDataWithinTwoSeconds() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 6);
    fly(flight, 20, t -> t);
    long still = Math.round(flight.seconds * 1e9);
    fly(flight, 22, t -> still);
    assertTrue(noData, "missing data are reported");
    assertEquals(Status.SENSOR_FAULT, monitor.reading().status());
    fly(flight, 30, t -> t);
    assertGood(flight);
  }

  @Test
  void rowsWithTheSameStampDoNotAdvanceTime() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 200, 7);
    long coarse = 20_000_000L;
    int refused = fly(flight, 20, t -> t / coarse * coarse);
    assertTrue(refused > 2900 && refused < 3100, "three of four are repeats: " + refused);
    assertGood(flight);
  }
}
