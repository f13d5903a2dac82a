package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.solarmargin.core.monitor.Monitors.feed;
import static org.solarmargin.core.monitor.Monitors.monitor;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestFlight;

/** Faults in flight: the bound must hold, or the status must show that it cannot be trusted. */
class RobustnessTest {

  private static double error(MarginMonitor monitor, TestFlight flight) {
    return monitor.reading().availableWatts() / flight.availableWatts - 1;
  }

  @Test
  void theEstimateRecoversWithin2SecondsAfterAGapAcrossACloudEdge() {
    MarginMonitor monitor = monitor();
    TestFlight flight = new TestFlight(t -> t < 22 ? 0.95 : 0.7, t -> 0.47, 50, 3);
    while (flight.seconds < 20) {
      feed(monitor, flight);
    }
    while (flight.seconds < 25) {
      flight.next();
    }
    feed(monitor, flight);
    assertTrue(
        monitor.reading().availableLowWatts() <= flight.availableWatts, "bound after the gap");
    while (flight.seconds < 27) {
      feed(monitor, flight);
    }
    assertEquals(0, error(monitor, flight), 0.05);
    assertEquals(1, monitor.gate().gaps());
  }

  @Test
  void aFrozenCurrentSensorIsDetectedAndTheMarginNotTrusted() {
    MarginMonitor monitor = monitor();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 4);
    while (flight.seconds < 20) {
      feed(monitor, flight);
    }
    double stuck = flight.busAmps;
    int trusted = 0;
    while (flight.seconds < 25) {
      flight.next();
      monitor.update(Math.round(flight.seconds * 1e9), flight.busVolts, stuck, flight.throttle);
      Status status = monitor.reading().status();
      trusted += status == Status.SHARP || status == Status.COARSE ? 1 : 0;
    }
    assertTrue(trusted < 30, "samples with a trusted status: " + trusted);
    assertEquals(AlertLevel.CAUTION, monitor.level());
    while (flight.seconds < 35) {
      feed(monitor, flight);
    }
    assertEquals(0, error(monitor, flight), 0.06, "the estimate recovers with the sensor");
  }

  /**
   * A change of scale cannot be distinguished from light and heat; the bound must not be optimistic
   * for long.
   */
  @Test
  void aWrongVoltageScaleDoesNotHideALoss() {
    for (double scale : new double[] {0.95, 1.05}) {
      MarginMonitor monitor = monitor();
      TestFlight flight =
          new TestFlight(
              t -> t < 30 ? 0.95 : Math.max(0.95 - 0.02 * (t - 30), 0.3), t -> 0.5, 50, 5);
      double crossed = Double.NaN;
      boolean warned = false;
      while (flight.seconds < 60 && Double.isNaN(crossed)) {
        flight.next();
        double slip = flight.seconds > 15 ? scale : 1;
        monitor.update(
            Math.round(flight.seconds * 1e9),
            slip * flight.busVolts,
            flight.busAmps,
            flight.throttle);
        warned |= monitor.level() == AlertLevel.WARNING;
        crossed = flight.trueVolts < flight.peakVolts ? flight.seconds : Double.NaN;
      }
      assertTrue(warned, "scale " + scale + ": knee at " + crossed + " s without a WARNING");
    }
  }

  @Test
  void aLostStringWarnsAtOnce() {
    MarginMonitor monitor = monitor();
    TestFlight flight = new TestFlight(t -> t < 20 ? 0.95 : 0.475, t -> 0.5, 50, 6);
    while (flight.seconds < 20.3) {
      feed(monitor, flight);
    }
    assertEquals(AlertLevel.WARNING, monitor.level());
  }

  @Test
  void aRestartInFlightContinuesFromTheSavedState() {
    MarginMonitor first = monitor();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 7);
    while (flight.seconds < 30) {
      feed(first, flight);
    }
    byte[] saved = new byte[MarginMonitor.STATE_BYTES];
    first.save(saved);
    MarginMonitor second = monitor();
    flight.next();
    flight.next();
    assertTrue(second.restore(saved, Math.round(flight.seconds * 1e9), 0.04));
    feed(second, flight);
    assertNotEquals(Status.WARMING_UP, second.reading().status());
    assertEquals(
        first.reading().availableWatts(),
        second.reading().availableWatts(),
        0.01 * first.reading().availableWatts());
    assertTrue(MarginMonitor.STATE_BYTES < 2560);
  }

  @Test
  void aDamagedStateIsRefusedAndTheEstimatorReinitialised() {
    MarginMonitor monitor = monitor();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 8);
    while (flight.seconds < 20) {
      feed(monitor, flight);
    }
    byte[] saved = new byte[MarginMonitor.STATE_BYTES];
    monitor.save(saved);
    for (int i = 0; i < saved.length; i++) {
      byte[] damaged = saved.clone();
      damaged[i] ^= 0x40;
      MarginMonitor fresh = monitor();
      boolean padding = i >= 12 && i < 16;
      assertFalse(fresh.restore(damaged, 0, 0), "byte " + i + (padding ? " (padding)" : ""));
      assertEquals(Status.NO_ESTIMATE, fresh.reading().status());
    }
    assertFalse(monitor.restore(new byte[10], 0, 0));
    assertFalse(monitor.restore(null, 0, 0));
  }

  /**
   * Two consecutive spikes that disagree: the second does not confirm the first. The filter must
   * not end in bright light at high temperature, where every later sample would appear right.
   */
  @ParameterizedTest
  @ValueSource(doubles = {50, 10})
  void consecutiveSpikesLeaveNoOptimisticEstimate(double hertz) {
    for (double[][] spikes :
        new double[][][] {
          {{10, 2.5}, {30, 8.2}},
          {{29, 9.0}, {29, 9.5}},
          {{30, 8.2}, {12, 2.4}, {29, 7.5}},
          {{29.5, 9.1}, {29.6, 8.9}, {29.5, 9.2}, {29.4, 9.0}}
        }) {
      MarginMonitor monitor = monitor();
      TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, hertz, 6);
      while (flight.seconds < 20) {
        feed(monitor, flight);
      }
      for (double[] spike : spikes) {
        flight.next();
        monitor.update(Math.round(flight.seconds * 1e9), spike[0], spike[1], flight.throttle);
      }
      while (flight.seconds < 22) {
        feed(monitor, flight);
      }
      while (flight.seconds < 30) {
        feed(monitor, flight);
        assertTrue(
            error(monitor, flight) < 0.1,
            () -> "optimistic after " + spikes.length + " spikes: " + error(monitor, flight));
      }
    }
  }
}
