package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.MarginEstimator;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.core.verdict.Verdict;

/** Order of commands and readings, flight phases and the witnesses of the knee, step by step. */
class MonitorDecisionsTest {

  private static final long MS = 1_000_000L;
  private static final double NONE = Double.NaN;

  private final List<String> told = new ArrayList<>();
  private final MarginMonitor monitor = monitor(TestCraft.SETTINGS);

  private MarginMonitor monitor(EstimatorSettings settings) {
    return new MarginMonitor(
        settings,
        AlertRules.DEFAULT,
        (nanos, level, raised, reason, margin, toZero) ->
            told.add(level + (raised ? " raised " : " cleared ") + reason));
  }

  /** The first command from which the craft flies, 10 ms after a waiting reading or with it. */
  @ParameterizedTest
  @CsvSource({"110, IDLE", "100, WARMING_UP"})
  void aNewerCommandActsAfterAWaitingReading(long commandMillis, Status status) {
    monitor.command(50 * MS, 0.05);
    monitor.reading(60 * MS, 30, 0.2, NONE);
    monitor.command(70 * MS, 0.05);
    assertEquals(Status.IDLE, monitor.reading().status());
    monitor.reading(100 * MS, 30.1, 0.21, NONE);
    monitor.command(commandMillis * MS, 0.5);
    assertEquals(2, monitor.gate().count(Verdict.ACCEPTED));
    assertEquals(status, monitor.reading().status());
    assertTrue(monitor.airborne());
  }

  @Test
  void aReadingWhoseCommandIsThereIsJudgedAtOnce() {
    monitor.command(200 * MS, 0.5);
    assertEquals(Verdict.ACCEPTED, monitor.reading(150 * MS, 28.5, 2.7, NONE));
    assertEquals(1, monitor.gate().count(Verdict.ACCEPTED));
    assertEquals(Verdict.TIME_REPEATED, monitor.reading(150 * MS, 28.6, 2.8, NONE));
    assertEquals(Verdict.CURRENT_IMPOSSIBLE, monitor.reading(160 * MS, 28.6, 90, NONE));
  }

  /** After a restart of the clock, commands alone are shifted like the samples. */
  @Test
  void commandsFollowARestartedClock() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 2);
    for (int i = 0; i < 100; i++) {
      Monitors.feed(monitor, flight);
    }
    for (int i = 0; i < 4; i++) {
      flight.next();
      monitor.update(20 * MS * i, flight.busVolts, flight.busAmps, flight.throttle);
    }
    assertTrue(monitor.clockShiftSeconds() > 1.9);
    for (int i = 4; i < 54; i++) {
      flight.next();
      assertEquals(Verdict.ACCEPTED, monitor.command(20 * MS * i, flight.throttle));
      Verdict verdict = monitor.reading(20 * MS * i, flight.busVolts, flight.busAmps, NONE);
      assertFalse(verdict.refused(), i + ": " + verdict);
    }
    assertTrue(monitor.reading().status().bearsMargin());
  }

  /** While readings are averaged they are accepted, though most lead to no update. */
  @Test
  void averagedReadingsAreAcceptedAndFresh() {
    MarginMonitor unknown = monitor(TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN));
    assertTrue(unknown.timingWords().contains("not been found"), unknown.timingWords());
    assertTrue(monitor.timingWords().contains("stated"), monitor.timingWords());
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 2);
    for (int i = 0; i < 200; i++) {
      assertEquals(Verdict.ACCEPTED, Monitors.feed(unknown, flight), "sample " + i);
    }
    assertEquals(Status.COARSE, unknown.reading().status());
    assertFalse(unknown.wrongArray());
    // one old average would be a coasting prediction
    for (int i = 1; i < 20; i++) {
      Monitors.feed(unknown, flight);
      assertTrue(unknown.reading().status().bearsMargin());
    }
  }

  /**
   * Readings every 0.7 s: their mean interval approaches that by a tenth each time, and three of
   * them may pass before a reading is old.
   */
  @ParameterizedTest
  @CsvSource({"3, 1.02, SENSOR_FAULT", "40, 1.9, SHARP", "40, 2.2, SENSOR_FAULT"})
  void sparseReadingsGrowOldLater(int readings, double afterSeconds, Status status) {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 1 / 0.7, 2);
    for (int i = 0; i < readings; i++) {
      Monitors.feed(monitor, flight);
    }
    long last = Math.round(flight.seconds * 1e9);
    long now = last + Math.round(afterSeconds * 1e9);
    monitor.update(now, NONE, NONE, 0.5);
    boolean old = status == Status.SENSOR_FAULT;
    assertEquals(old, monitor.reading().status() == Status.SENSOR_FAULT);
  }

  /** The margin of the alerts: lower bound over the peak demand, which decays slowly. */
  @Test
  void theAlertsMarginIsThatOfBoundAndSteadyDemand() {
    assertEquals(Double.POSITIVE_INFINITY, monitor.alertMarginPercent());
    MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 2);
    double highest = 0;
    for (int i = 0; i < 150; i++) {
      Monitors.feed(monitor, flight);
      double kept = highest * Math.exp(-0.02 / AlertRules.DEFAULT.peakMemorySeconds());
      highest = Math.max(monitor.reading().steadyDemandWatts(), kept);
      estimator.update(
          0.02, flight.busVolts, flight.busAmps, flight.throttle, NONE, new MarginReading());
      double margin = 100 * (estimator.alertLowWatts() / highest - 1);
      assertEquals(margin, monitor.alertMarginPercent(), 1e-6, "sample " + i);
    }
  }

  @Test
  void aMarginOfAlmostNothingIsReportedInTheAirAndClearedOnTheGround() {
    TestFlight flight = new TestFlight(t -> 0.62, t -> t < 12 ? 0.52 : 0.02, 50, 2);
    while (flight.seconds < 2.9) {
      Monitors.feed(monitor, flight);
      assertEquals(List.of(), told, "nothing is said while the estimate warms up");
    }
    while (flight.seconds < 11.9) {
      Monitors.feed(monitor, flight);
    }
    assertTrue(monitor.level() != AlertLevel.NONE, told + " at " + monitor.alertMarginPercent());
    while (flight.seconds < 12.8) {
      Monitors.feed(monitor, flight);
    }
    assertEquals(Status.IDLE, monitor.reading().status());
    assertEquals(AlertLevel.NONE, monitor.level(), told.toString());
  }

  /** The witnesses are those of an estimator that is given the same readings. */
  @Test
  void theWitnessesOfTheKneeAreCountedOneByOne() {
    MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
    MarginReading reading = new MarginReading();
    TestFlight flight = new TestFlight(t -> 0.75, t -> t < 4 ? 0.5 : 0.5 + 0.25 * (t - 4), 50, 2);
    long[] expected = new long[3];
    for (int i = 0; i < 280; i++) {
      // from 2 to 2.6 s the throttle rises while the power falls, far from the knee
      double rise = i >= 100 && i < 130 ? 0.004 * (i - 99) : 0;
      flight.next();
      double amps = flight.busAmps * (1 - 3 * rise);
      double throttle = Math.min(flight.throttle + rise, 1);
      Verdict verdict = monitor.update(20 * MS * i, flight.busVolts, amps, throttle);
      estimator.update(0.02, flight.busVolts, amps, throttle, NONE, reading);
      if (verdict == Verdict.ACCEPTED && reading.status() == Status.PAST_KNEE) {
        boolean model = estimator.kneeByModel();
        expected[model && estimator.kneeByPowerDrop() ? 2 : model ? 0 : 1]++;
      }
      assertEquals(reading.status(), monitor.reading().status(), "sample " + i);
      assertEquals(expected[0], monitor.kneeByModelOnly(), "sample " + i);
      assertEquals(expected[1], monitor.kneeByPowerDropOnly(), "sample " + i);
      assertEquals(expected[2], monitor.kneeByBoth(), "sample " + i);
    }
    for (int i = 0; i < 3; i++) {
      assertTrue(expected[i] > 2, "witness " + i + ": " + expected[i]);
    }
  }
}
