package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.solarmargin.core.monitor.Monitors.feed;
import static org.solarmargin.core.monitor.Monitors.monitor;

import java.lang.reflect.Method;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.cell.DataSheet;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.MarginSnapshot;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.verdict.Verdict;

class MarginMonitorTest {

  /** Limit for flights that match the profile; the figures by family are in ACCURACY.md. */
  private static final double MATCHED_RMS = 0.03;

  /**
   * Accuracy of the estimate of a flight, from the eighth second on.
   *
   * @param rms root mean square of the relative error
   * @param held share of the samples whose lower bound held
   */
  private record Accuracy(double rms, double held) {}

  private static Accuracy accuracy(TestFlight flight, double seconds, boolean thermometer) {
    MarginMonitor monitor = monitor();
    double sum = 0;
    int n = 0;
    int held = 0;
    while (flight.seconds < seconds) {
      flight.next();
      monitor.update(
          Math.round(flight.seconds * 1e9),
          flight.busVolts,
          flight.busAmps,
          flight.throttle,
          thermometer ? flight.cellCelsius : Double.NaN);
      if (flight.seconds > 8) {
        MarginReading reading = monitor.reading();
        double error = reading.availableWatts() / flight.availableWatts - 1;
        sum += error * error;
        n++;
        held += reading.availableLowWatts() <= flight.availableWatts ? 1 : 0;
      }
    }
    return new Accuracy(Math.sqrt(sum / n), held / (double) n);
  }

  private static void assertHeld(Accuracy accuracy) {
    assertTrue(accuracy.held() >= 0.95, () -> "lower bound held in " + accuracy.held());
  }

  @Test
  void estimatesThePowerThatIsNotUsed() {
    Accuracy accuracy = accuracy(new TestFlight(t -> 0.9, t -> 0.5, 50, 1), 60, false);
    assertTrue(accuracy.rms() < MATCHED_RMS, "rms " + accuracy.rms());
    assertHeld(accuracy);
  }

  @Test
  void tracksACloud() {
    TestFlight flight = new TestFlight(t -> 0.95 - 0.25 / (1 + Math.exp(25 - t)), t -> 0.5, 50, 2);
    Accuracy accuracy = accuracy(flight, 60, false);
    assertTrue(accuracy.rms() < MATCHED_RMS, "rms " + accuracy.rms());
    assertHeld(accuracy);
  }

  @Test
  void twoHertzAndFourHundredHertzWorkToo() {
    Accuracy slow = accuracy(new TestFlight(t -> 0.9, t -> 0.5, 2, 3), 120, false);
    Accuracy fast = accuracy(new TestFlight(t -> 0.9, t -> 0.5, 400, 4), 40, false);
    assertTrue(slow.rms() < 2 * MATCHED_RMS, "2 Hz: rms " + slow.rms());
    assertTrue(fast.rms() < MATCHED_RMS, "400 Hz: rms " + fast.rms());
    assertHeld(slow);
    assertHeld(fast);
  }

  @Test
  void aThermometerImprovesTheEstimate() {
    double with = 0;
    double without = 0;
    for (int seed = 51; seed <= 58; seed++) {
      Accuracy helped = accuracy(new TestFlight(t -> 0.9, t -> 0.46, 50, seed), 60, true);
      Accuracy alone = accuracy(new TestFlight(t -> 0.9, t -> 0.46, 50, seed), 60, false);
      assertHeld(helped);
      assertHeld(alone);
      with += helped.rms() / 8;
      without += alone.rms() / 8;
    }
    assertTrue(with < MATCHED_RMS && with < without, with + " with, " + without + " without");
  }

  @Test
  void replayTwiceGivesTheSameBitsAndResetEqualsNew() {
    MarginMonitor used = monitor();
    TestFlight other = new TestFlight(t -> 0.6, t -> 0.4, 50, 9);
    for (int i = 0; i < 700; i++) {
      feed(used, other);
    }
    used.reset();
    MarginMonitor fresh = monitor();
    TestFlight a = new TestFlight(t -> 0.9, t -> 0.5, 50, 6);
    TestFlight b = new TestFlight(t -> 0.9, t -> 0.5, 50, 6);
    for (int i = 0; i < 1500; i++) {
      assertEquals(feed(fresh, a), feed(used, b));
      assertEquals(
          Double.doubleToLongBits(fresh.reading().availableLowWatts()),
          Double.doubleToLongBits(used.reading().availableLowWatts()));
    }
  }

  @Test
  void afterAGapTheIntervalIsWider() {
    MarginMonitor monitor = monitor();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 7);
    for (int i = 0; i < 1500; i++) {
      feed(monitor, flight);
    }
    double before = gap(monitor);
    for (int i = 0; i < 250; i++) {
      flight.next();
    }
    feed(monitor, flight);
    assertTrue(gap(monitor) > before, before + " before, " + gap(monitor) + " after");
  }

  @Test
  void refusedSamplesWidenTheIntervalAndAreReported() {
    MarginMonitor monitor = monitor();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 8);
    for (int i = 0; i < 1500; i++) {
      feed(monitor, flight);
    }
    double before = gap(monitor);
    for (int i = 0; i < 100; i++) {
      flight.next();
      Verdict verdict =
          monitor.update(Math.round(flight.seconds * 1e9), Double.NaN, 2, flight.throttle);
      assertNotEquals(Verdict.ACCEPTED, verdict);
    }
    assertEquals(Status.SENSOR_FAULT, monitor.reading().status());
    assertTrue(gap(monitor) > before);
    assertEquals(AlertLevel.CAUTION, monitor.level(), "two seconds without a voltage");
  }

  private static double gap(MarginMonitor monitor) {
    return 1 - monitor.reading().availableLowWatts() / monitor.reading().availableWatts();
  }

  @Test
  void oneSpikeIsRefusedAndChangesNothing() {
    MarginMonitor monitor = monitor();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 10);
    for (int i = 0; i < 1500; i++) {
      feed(monitor, flight);
    }
    double before = monitor.reading().availableWatts();
    flight.next();
    assertEquals(
        Verdict.SPIKE,
        monitor.update(
            Math.round(flight.seconds * 1e9),
            flight.busVolts / 3,
            flight.busAmps,
            flight.throttle));
    feed(monitor, flight);
    assertEquals(before, monitor.reading().availableWatts(), 0.02 * before);
    assertEquals(1, monitor.gate().count(Verdict.SPIKE));
  }

  /** Common practice, no source: 24 V under load cannot come from 27 cells of 0.69 V. */
  @Test
  void aWrongCellCountIsReportedAtOnceAndNothingIsEstimated() {
    CellParameters cell = new DataSheet(6.1, 0.69, 5.8, 0.58, 0.0005, -0.0033).toParameters();
    EstimatorSettings s = TestCraft.SETTINGS;
    EstimatorSettings wrong =
        new EstimatorSettings(
            cell, s.cellSpread(), 27, 1, s.thermal(), s.rotor(), s.sensors(), s.timing());
    MarginMonitor monitor = new MarginMonitor(wrong, AlertRules.DEFAULT, (t, l, r, w, m, z) -> {});
    for (int i = 1; i <= 5; i++) {
      assertEquals(
          Verdict.VOLTAGE_IMPOSSIBLE, monitor.update(i * 20_000_000L, 24 + 0.01 * i, 2.5, 0.5));
    }
    assertTrue(monitor.wrongArray());
    monitor.update(200_000_000L, 15, 2.5, 0.5);
    assertEquals(Status.NO_ESTIMATE, monitor.reading().status());
    assertTrue(Double.isNaN(monitor.reading().availableWatts()));
  }

  @Test
  void onTheGroundTheStatusIsIdleWithoutAlerts() {
    List<String> events = new ArrayList<>();
    MarginMonitor monitor =
        new MarginMonitor(
            TestCraft.SETTINGS,
            AlertRules.DEFAULT,
            (t, level, r, w, m, z) -> events.add(level + ""));
    TestFlight flight = new TestFlight(t -> 0.2, t -> 0.05, 50, 11);
    for (int i = 0; i < 1000; i++) {
      feed(monitor, flight);
    }
    assertEquals(Status.IDLE, monitor.reading().status());
    assertFalse(monitor.airborne());
    assertEquals(List.of(), events);
  }

  @Test
  void aSnapshotDoesNotChange() {
    MarginMonitor monitor = monitor();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 12);
    for (int i = 0; i < 500; i++) {
      feed(monitor, flight);
    }
    var snapshot = monitor.reading().snapshot();
    double then = monitor.reading().availableWatts();
    for (int i = 0; i < 50; i++) {
      feed(monitor, flight);
    }
    assertEquals(then, snapshot.availableWatts());
  }

  /** Every figure of the reading, by name. */
  @Test
  void aSnapshotHasAllFiguresOfTheReading() throws ReflectiveOperationException {
    MarginMonitor monitor = monitor();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 13);
    for (int i = 0; i < 500; i++) {
      feed(monitor, flight);
    }
    MarginReading reading = monitor.reading();
    int figures = 0;
    for (Method method : MarginReading.class.getMethods()) {
      boolean figure =
          method.getDeclaringClass() == MarginReading.class
              && method.getParameterCount() == 0
              && method.getReturnType() != void.class
              && method.getReturnType() != MarginSnapshot.class;
      if (figure) {
        Method same = MarginSnapshot.class.getMethod(method.getName());
        assertEquals(method.invoke(reading), same.invoke(reading.snapshot()), method.getName());
        figures++;
      }
    }
    assertTrue(figures >= 15, "figures " + figures);
  }
}
