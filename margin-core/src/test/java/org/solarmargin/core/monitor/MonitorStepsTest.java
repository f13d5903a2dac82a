package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.MarginEstimator;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.estimator.TimingStatus;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.core.verdict.GateLimits;
import org.solarmargin.core.verdict.Verdict;

/** What the monitor passes on, and when: flights of a few seconds, sample by sample. */
class MonitorStepsTest {

  private static final long MS = 1_000_000L;
  private static final double NONE = Double.NaN;

  private final List<String> told = new ArrayList<>();
  private final MarginMonitor monitor = monitor();

  private MarginMonitor monitor() {
    return new MarginMonitor(
        TestCraft.SETTINGS,
        AlertRules.DEFAULT,
        (nanos, level, raised, reason, margin, toZero) ->
            told.add(nanos / MS + " " + level + (raised ? " raised " : " cleared ") + reason));
  }

  private static TestFlight calm() {
    return new TestFlight(t -> 0.9, t -> 0.5, 50, 2);
  }

  private static long nanos(TestFlight flight) {
    return Math.round(flight.seconds * 1e9);
  }

  private void fly(TestFlight flight, double seconds) {
    while (flight.seconds < seconds - 1e-9) {
      flight.next();
      Verdict verdict =
          monitor.update(nanos(flight), flight.busVolts, flight.busAmps, flight.throttle);
      assertFalse(verdict.refused(), "refused as " + verdict);
    }
  }

  /** A landing is noticed although all readings are refused since the flight. */
  @Test
  void theThrottleOfARefusedReadingCounts() {
    TestFlight flight = calm();
    fly(flight, 8);
    long now = nanos(flight);
    for (int i = 1; i <= 100; i++) {
      Verdict verdict = monitor.update(now + 20 * MS * i, 900, 2.7, 0.5);
      assertTrue(verdict.refused());
    }
    assertEquals(AlertLevel.CAUTION, monitor.level());
    for (int i = 101; i <= 140; i++) {
      monitor.update(now + 20 * MS * i, 900, 2.7, 0);
    }
    assertEquals(AlertLevel.NONE, monitor.level(), told.toString());
  }

  /** A profile of another craft: no reading is ever usable. */
  @Test
  void aFlightWithoutAnyUsableReadingRaisesTheAlertsOfALossOfData() {
    for (int i = 0; i < 49; i++) {
      monitor.update(20 * MS * i, 900, 2.7, 0.5);
    }
    assertEquals(List.of(), told);
    for (int i = 49; i < 60; i++) {
      monitor.update(20 * MS * i, 900, 2.7, 0.5);
    }
    assertEquals(AlertLevel.CAUTION, monitor.level());
    assertTrue(told.get(0).endsWith("CAUTION raised NO_DATA"), told.toString());
  }

  @Test
  void onTheGroundALossOfDataRaisesNothing() {
    for (int i = 0; i < 200; i++) {
      monitor.update(20 * MS * i, 900, 2.7, 0);
    }
    assertEquals(List.of(), told);
    assertEquals(AlertLevel.NONE, monitor.level());
  }

  /** Six sigmas about what the array gives in 2.2 suns at -25 and 100 degrees Celsius. */
  @Test
  void theGatesLimitsAreThoseOfTheArrayAndItsSensors() {
    GateLimits limits = monitor.gate().limits();
    SolarArray array =
        new SolarArray(TestCraft.SETTINGS.cell(), 48, TestCraft.SETTINGS.parallelStrings());
    array.set(2.2, -25);
    assertEquals(array.openCircuitVolts() * 1.03 + 0.12, limits.highestVolts(), 1e-9);
    array.set(2.2, 100);
    assertEquals(array.shortCircuitAmps() * 1.09 + 0.6, limits.highestAmps(), 1e-9);
    assertEquals(0.12, limits.slackVolts(), 1e-12);
    assertEquals(0.6, limits.slackAmps(), 1e-12);
  }

  @Test
  void aReadingWaitsForTheFirstCommandThatIsNotOlder() {
    TestFlight flight = calm();
    flight.next();
    assertEquals(
        Verdict.ACCEPTED, monitor.reading(100 * MS, flight.busVolts, flight.busAmps, NONE));
    assertEquals(0, monitor.gate().samples(), "it waits");
    monitor.command(90 * MS, 0.5);
    assertEquals(0, monitor.gate().samples(), "an older command may be followed by others");
    monitor.command(100 * MS, 0.5);
    assertEquals(1, monitor.gate().samples());
    assertEquals(1, monitor.gate().count(Verdict.ACCEPTED));
    monitor.reading(100 * MS, flight.busVolts, flight.busAmps, NONE);
    assertEquals(1, monitor.gate().count(Verdict.TIME_REPEATED), "the command is there already");
    monitor.reading(120 * MS, 28.6, 2.71, NONE);
    monitor.reading(140 * MS, 28.7, 2.72, NONE);
    assertEquals(2, monitor.gate().count(Verdict.ACCEPTED), "one waits at a time");
    monitor.command(150 * MS, 0.51);
    assertEquals(3, monitor.gate().count(Verdict.ACCEPTED));
    monitor.reading(160 * MS, 28.5, 2.7, NONE);
    monitor.update(180 * MS, 28.4, 2.69, 0.5);
    assertEquals(5, monitor.gate().count(Verdict.ACCEPTED), "a sample lets it through");
    assertEquals(Verdict.THROTTLE_OUT_OF_RANGE, monitor.command(200 * MS, 2));
    monitor.reading(200 * MS, 28.6, 2.71, NONE);
    assertEquals(5, monitor.gate().count(Verdict.ACCEPTED), "a refused command is none");
    monitor.reset();
    monitor.command(210 * MS, 0.5);
    assertEquals(0, monitor.gate().samples(), "what waits is forgotten");
  }

  @Test
  void commandsAndReadingsApartAreTheSameFlight() {
    MarginMonitor apart = monitor();
    TestFlight flight = calm();
    while (flight.seconds < 2) {
      flight.next();
      long now = nanos(flight);
      monitor.update(now, flight.busVolts, flight.busAmps, flight.throttle);
      apart.command(now, flight.throttle);
      apart.reading(now, flight.busVolts, flight.busAmps, NONE);
    }
    assertEquals(monitor.snapshot(), apart.snapshot());
  }

  @Test
  void aSnapshotIsTheLastReading() {
    assertEquals(Status.NO_ESTIMATE, monitor.snapshot().status());
    TestFlight flight = calm();
    fly(flight, 1);
    assertEquals(monitor.reading().snapshot(), monitor.snapshot());
    assertTrue(monitor.normalisedInnovation() > 0);
    assertTrue(monitor.airborne());
    assertEquals(TimeModel.SIMULTANEOUS, monitor.timing());
    assertEquals(TimingStatus.STATED, monitor.timingStatus());
    monitor.reset();
    assertEquals(Status.NO_ESTIMATE, monitor.snapshot().status());
    assertEquals(Status.NO_ESTIMATE, monitor.reading().status());
    assertFalse(monitor.airborne());
    assertEquals(Verdict.NOT_A_NUMBER, monitor.refuseUntimed());
    assertEquals(1, monitor.gate().count(Verdict.NOT_A_NUMBER));
  }

  /** The throttle goes far beyond the ceiling. */
  private static TestFlight overdriven() {
    return new TestFlight(t -> 0.75, t -> t < 5 ? 0.5 : 0.95, 50, 2);
  }

  @Test
  void pastTheKneeIsWarnedOfAndItsWitnessesAreCounted() {
    TestFlight flight = overdriven();
    fly(flight, 4.9);
    assertEquals(AlertLevel.NONE, monitor.level());
    told.clear();
    long past = 0;
    while (flight.seconds < 7) {
      flight.next();
      Verdict verdict =
          monitor.update(nanos(flight), flight.busVolts, flight.busAmps, flight.throttle);
      boolean knee = monitor.reading().status() == Status.PAST_KNEE;
      past += knee && verdict == Verdict.ACCEPTED ? 1 : 0;
      assertEquals(
          past, monitor.kneeByBoth() + monitor.kneeByModelOnly() + monitor.kneeByPowerDropOnly());
    }
    assertTrue(past > 40, "samples past the knee: " + past);
    assertTrue(monitor.kneeByModelOnly() > 40, "the throttle rests after its step");
    assertEquals(Status.PAST_KNEE, monitor.reading().status());
    assertEquals(AlertLevel.WARNING, monitor.level());
    assertEquals(AlertLevel.WARNING, monitor.sounding());
    assertTrue(told.get(0).contains("WARNING raised"), told.toString());
    monitor.acknowledge();
    assertEquals(AlertLevel.NONE, monitor.sounding());
    assertEquals(AlertLevel.WARNING, monitor.level());
    monitor.reset();
    assertEquals(
        0, monitor.kneeByBoth() + monitor.kneeByModelOnly() + monitor.kneeByPowerDropOnly());
    assertEquals(AlertLevel.NONE, monitor.level());
  }

  @Test
  void anAcknowledgementBeforeAWarningIsNone() {
    TestFlight flight = overdriven();
    fly(flight, 4.9);
    monitor.acknowledge();
    while (flight.seconds < 7) {
      flight.next();
      monitor.update(nanos(flight), flight.busVolts, flight.busAmps, flight.throttle);
    }
    assertEquals(AlertLevel.WARNING, monitor.sounding());
  }

  /** Without a fresh reading for more than a second the status says so, and a CAUTION follows. */
  @Test
  void aReadingThatIsAbsentGrowsOldAfterASecond() {
    TestFlight flight = calm();
    fly(flight, 4);
    long last = nanos(flight);
    Status before = monitor.reading().status();
    for (int i = 1; i <= 50; i++) {
      assertEquals(Verdict.NO_NEW_READING, monitor.update(last + i * MS * 20, NONE, NONE, 0.5));
      assertEquals(before, monitor.reading().status(), "after " + 20 * i + " ms");
    }
    double low = monitor.reading().availableLowWatts();
    monitor.update(last + 1001 * MS, NONE, NONE, 0.5);
    assertEquals(Status.SENSOR_FAULT, monitor.reading().status());
    assertTrue(monitor.reading().availableLowWatts() < low);
    assertEquals(List.of(), told);
    for (int i = 1; i <= 55; i++) {
      monitor.update(last + 1001 * MS + i * MS * 20, NONE, NONE, 0.5);
    }
    assertEquals(1, told.size());
    assertTrue(told.get(0).endsWith("CAUTION raised NO_DATA"), told.toString());
  }

  @Test
  void aClockThatStartsAnewIsToldInItsOwnStamps() {
    TestFlight flight = calm();
    fly(flight, 4);
    assertEquals(0, monitor.clockShiftSeconds());
    for (int i = 0; i < 3; i++) {
      flight.next();
      Verdict verdict =
          monitor.update(i * MS * 20, flight.busVolts, flight.busAmps, flight.throttle);
      assertEquals(i < 2 ? Verdict.TIME_BACKWARD : Verdict.ACCEPTED, verdict);
    }
    // from 4.00 s one usual step on: 4.02 s for the stamp 0.04 s
    assertEquals(3.98, monitor.clockShiftSeconds(), 1e-6);
    for (int i = 3; i < 70; i++) {
      monitor.update(i * MS * 20, flight.busVolts, Double.POSITIVE_INFINITY, flight.throttle);
    }
    assertEquals(1, told.size(), told.toString());
    // a second of refused samples from 0.06 s on
    assertEquals("1060 CAUTION raised NO_DATA", told.get(0).replace("1040", "1060"));
  }

  @Test
  void aClockThatStandsStillIsNoData() {
    TestFlight flight = calm();
    fly(flight, 4);
    long still = nanos(flight);
    for (int i = 0; i < 120; i++) {
      assertEquals(Verdict.TIME_REPEATED, monitor.update(still, 29, 2.7, 0.5));
    }
    assertEquals(Status.SENSOR_FAULT, monitor.reading().status());
    assertEquals(Status.SENSOR_FAULT, monitor.snapshot().status(), "published");
    assertEquals(1, told.size());
    assertTrue(told.get(0).endsWith("CAUTION raised NO_DATA"), told.toString());
  }

  @Test
  void aRefusedSampleCoastsASpikeDoesNot() {
    TestFlight flight = calm();
    fly(flight, 4);
    double low = monitor.reading().availableLowWatts();
    flight.next();
    assertEquals(
        Verdict.CURRENT_IMPOSSIBLE, monitor.update(nanos(flight), flight.busVolts, 90, 0.5));
    assertEquals(Status.SENSOR_FAULT, monitor.reading().status());
    assertTrue(monitor.reading().availableLowWatts() != low);
    flight.next();
    monitor.update(nanos(flight), flight.busVolts, flight.busAmps, flight.throttle);
    assertTrue(monitor.reading().status().bearsMargin());
    flight.next();
    assertEquals(
        Verdict.SPIKE,
        monitor.update(nanos(flight), flight.busVolts / 2, flight.busAmps, flight.throttle));
    assertEquals(1, monitor.gate().count(Verdict.SPIKE));
    assertEquals(Status.SENSOR_FAULT, monitor.reading().status());
  }

  @Test
  void aVoltageSlightlyBelowZeroIsZero() {
    assertEquals(Verdict.ACCEPTED, monitor.update(0, -0.1, 0.01, 0));
    assertEquals(0, monitor.reading().demandWatts());
  }

  /**
   * A thermometer out of any range is none; one that agrees makes the cells' temperature sharper.
   */
  @Test
  void aThermometerIsUsedWithinItsRange() {
    MarginMonitor without = monitor();
    MarginMonitor with = monitor();
    TestFlight flight = calm();
    while (flight.seconds < 3) {
      flight.next();
      long now = nanos(flight);
      monitor.update(now, flight.busVolts, flight.busAmps, flight.throttle, 150);
      without.update(now, flight.busVolts, flight.busAmps, flight.throttle);
      with.update(now, flight.busVolts, flight.busAmps, flight.throttle, flight.cellCelsius + 1);
    }
    assertEquals(without.snapshot(), monitor.snapshot());
    assertTrue(
        Math.abs(with.reading().cellCelsius() - flight.cellCelsius - 0.5)
            < Math.abs(without.reading().cellCelsius() - flight.cellCelsius - 0.5) + 1);
    assertFalse(with.snapshot().equals(without.snapshot()));
    monitor.reset();
    MarginMonitor cold = monitor();
    flight = calm();
    while (flight.seconds < 1) {
      flight.next();
      long now = nanos(flight);
      monitor.update(now, flight.busVolts, flight.busAmps, flight.throttle, -60);
      cold.update(now, flight.busVolts, flight.busAmps, flight.throttle, NONE);
    }
    assertEquals(cold.snapshot(), monitor.snapshot());
  }

  @Test
  void aSavedStateIsTakenUpWithItsAlerts() {
    TestFlight flight = overdriven();
    while (flight.seconds < 7) {
      flight.next();
      monitor.update(nanos(flight), flight.busVolts, flight.busAmps, flight.throttle);
    }
    byte[] state = new byte[MarginMonitor.STATE_BYTES];
    monitor.save(state);
    assertThrows(IllegalArgumentException.class, () -> monitor.save(new byte[state.length - 1]));
    MarginMonitor other = monitor();
    told.clear();
    assertTrue(other.restore(state, 90_000 * MS, 0.5));
    assertEquals(AlertLevel.WARNING, other.level());
    assertEquals(1, told.size());
    assertTrue(told.get(0).startsWith("90000 WARNING raised"), told.toString());
    flight.next();
    assertEquals(
        Verdict.ACCEPTED,
        other.update(90_020 * MS, flight.busVolts, flight.busAmps, flight.throttle));
    assertEquals(Status.PAST_KNEE, other.reading().status(), "it need not warm up");
    assertFalse(other.restore(null, 0, 0));
    assertFalse(other.restore(new byte[state.length - 1], 0, 0));
    assertEquals(AlertLevel.NONE, other.level());
    byte[] damaged = state.clone();
    damaged[MarginEstimator.STATE_BYTES + 9] ^= 1;
    assertFalse(other.restore(damaged, 0, 0), "the alerts are damaged");
    assertFalse(other.airborne(), "then the estimate is not taken up either");
  }

  @Test
  void anImpossibleArrayClearsTheReading() {
    TestFlight flight = calm();
    fly(flight, 0.1);
    for (int i = 1; i <= 5; i++) {
      flight.next();
      assertEquals(
          Verdict.VOLTAGE_IMPOSSIBLE, monitor.update(nanos(flight), 90, flight.busAmps, 0.5));
    }
    assertTrue(monitor.wrongArray());
    assertEquals(Status.NO_ESTIMATE, monitor.reading().status());
    assertEquals(Status.NO_ESTIMATE, monitor.snapshot().status());
    assertTrue(MarginMonitor.limitsOf(TestCraft.SETTINGS).highestVolts() < 90);
  }

  @Test
  void anImpossibleArrayInFlightRaisesAlertsAndStaysWithoutAnEstimate() {
    TestFlight flight = calm();
    fly(flight, 3);
    for (int i = 0; i < 2 * 50; i++) {
      flight.next();
      monitor.update(nanos(flight), 90, flight.busAmps, 0.5);
    }
    assertTrue(monitor.wrongArray());
    assertEquals(AlertLevel.CAUTION, monitor.level());
    assertTrue(told.get(0).endsWith("CAUTION raised NO_DATA"), () -> told.toString());
    for (int i = 0; i < 2 * 50; i++) {
      monitor.update(nanos(flight), flight.busVolts, flight.busAmps, 0.5);
    }
    assertEquals(Status.NO_ESTIMATE, monitor.reading().status(), "while the clock stands still");
    assertTrue(Double.isNaN(monitor.reading().availableWatts()));
    fly(flight, flight.seconds + 5);
    assertFalse(monitor.wrongArray());
    assertTrue(told.get(1).endsWith("CAUTION cleared RECOVERED"), () -> told.toString());
  }

  @Test
  void aTemperatureInARowOfItsOwnIsUsed() {
    MarginMonitor apart = monitor();
    TestFlight flight = calm();
    while (flight.seconds < 5) {
      flight.next();
      long now = nanos(flight);
      double celsius = flight.cellCelsius + 6;
      monitor.update(now, flight.busVolts, flight.busAmps, flight.throttle, celsius);
      apart.update(now - 5 * MS, NONE, NONE, NONE, celsius);
      apart.update(now, flight.busVolts, flight.busAmps, flight.throttle);
    }
    assertEquals(monitor.reading().cellCelsius(), apart.reading().cellCelsius(), 0.05);
  }

  /** One temperature in a second, for its first half minute 40 K too high. */
  @Test
  void aSparseThermometerIsUsedAgainAfterTheStatedTime() {
    TestFlight flight = calm();
    double until = 0;
    for (int i = 0; i < 60 * 50; i++) {
      flight.next();
      double error = flight.seconds < 30 ? 40 : 0;
      double celsius = i % 50 == 0 ? flight.cellCelsius + error : NONE;
      monitor.update(nanos(flight), flight.busVolts, flight.busAmps, flight.throttle, celsius);
      until = monitor.reading().thermometerLeftOut() ? flight.seconds : until;
    }
    assertEquals(43, until, 3, "ten seconds of agreement, and two of the mean");
  }
}
