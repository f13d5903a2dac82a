package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** Bursts of outliers, states that cannot be, and what a reset or a refused state leaves behind. */
class MarginRecoveryTest {

  private static final double NONE = Double.NaN;
  private final MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
  private final MarginReading reading = new MarginReading();
  private TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);

  private void fly(double until) {
    while (flight.seconds < until - 1e-9) {
      flight.next();
      estimator.update(0.02, flight.busVolts, flight.busAmps, flight.throttle, NONE, reading);
    }
  }

  /** Readings of some other craft, high and low in turn; returns whether the prior came back. */
  private boolean attack(double until) {
    boolean anew = false;
    for (int i = 0; flight.seconds < until - 1e-9; i++) {
      flight.next();
      double wrong = i % 2 == 0 ? 0.5 : 1.4;
      estimator.update(
          0.02,
          wrong * flight.busVolts,
          2 * flight.busAmps / wrong,
          flight.throttle,
          NONE,
          reading);
      if (i >= 20) {
        assertNotEquals(Status.SHARP, reading.status(), "at " + flight.seconds);
      }
      anew |= Math.abs(estimator.stateSd(State.PROPULSION) - 0.15) < 1e-9;
    }
    return anew;
  }

  @Test
  void theStateBeforeABurstReturnsWhenItHasEnded() {
    fly(7);
    assertEquals(Status.SHARP, reading.status());
    double[] before = new double[State.UNFILTERED];
    for (int j = 0; j < before.length; j++) {
      before[j] = estimator.state(j);
    }
    double evenSeconds = new EditedState(estimator).get(EditedState.EVEN_SECONDS);
    attack(9);
    double propulsionSd = estimator.stateSd(State.PROPULSION);
    fly(11);
    double sd = estimator.stateSd(State.LIGHT);
    assertTrue(sd < 0.1, "the filter has followed");
    int waited = 0;
    while (sd < 0.1) {
      fly(flight.seconds + 0.02);
      sd = estimator.stateSd(State.LIGHT);
      assertTrue(waited++ < 250, "the burst ends");
      assertNotEquals(Status.SHARP, reading.status());
    }
    // the state of 6 s, after a gap (at most 0.5 in the light's logarithm) and a coasting (0.01 per
    // second in its variance)
    double variance = 0.5 * 0.5 + 0.01 * (flight.seconds - 6);
    assertEquals(Math.sqrt(variance), sd, 0.02 * sd);
    assertEquals(propulsionSd, estimator.stateSd(State.PROPULSION), 0.3 * propulsionSd);
    for (int j : new int[] {State.PROPULSION, State.WINDING, State.VOLTAGE_GAIN, State.SERIES}) {
      assertEquals(before[j], estimator.state(j), 0.2 * estimator.stateSd(j) + 0.01, "state " + j);
    }
    assertTrue(new EditedState(estimator).get(EditedState.EVEN_SECONDS) < evenSeconds);
    fly(flight.seconds + 1);
    assertEquals(Status.SHARP, reading.status());
    assertEquals(flight.availableWatts, reading.availableWatts(), 0.1 * flight.availableWatts);
  }

  /** Without a state from before, the estimate begins anew: it warms up for three seconds. */
  @Test
  void aBurstFromTheBeginningOfTheWatchEndsInAWarmUp() {
    fly(5.9);
    attack(8);
    double began = Double.NaN;
    do {
      fly(flight.seconds + 0.02);
      boolean prior = Math.abs(estimator.stateSd(State.PROPULSION) - 0.15) < 0.001;
      began = prior ? flight.seconds : began;
    } while (reading.status() == Status.WARMING_UP && flight.seconds < 15);
    assertEquals(8.6, began, 0.2, "the prior's sigma, once the readings have settled");
    assertEquals(began + 3, flight.seconds, 0.2);
    assertEquals(0, reading.unevenLightProbability(), 1e-9, "nothing is known of shadows");
  }

  /** Readings that neither settle nor return to what the state of before explains begin anew. */
  @Test
  void aBurstThatGoesOnBeginsAnew() {
    fly(7);
    assertFalse(attack(8));
    assertTrue(attack(17.5));
  }

  /** After a reset, every reading is that of a new estimator: the burst leaves nothing either. */
  @Test
  void aResetLeavesNothingBehind() {
    fly(8);
    attack(10);
    estimator.reset();
    assertFalse(estimator.airborne());
    assertEquals(2, estimator.normalisedInnovation());
    MarginEstimator fresh = new MarginEstimator(TestCraft.SETTINGS);
    MarginReading expected = new MarginReading();
    TestFlight second = new TestFlight(t -> 0.8, t -> 0.5, 50, 5);
    for (int i = 0; i < 600; i++) {
      second.next();
      // the readings are those of another craft from 5.9 to 8 s
      double wrong = i < 295 || i > 400 ? 1 : 0.5 + i % 2;
      double volts = wrong * second.busVolts;
      estimator.update(0.02, volts, second.busAmps, second.throttle, NONE, reading);
      fresh.update(0.02, volts, second.busAmps, second.throttle, NONE, expected);
      assertEquals(expected.snapshot(), reading.snapshot(), "sample " + i);
    }
  }

  @Test
  void aRefusedStateLeavesAnEstimatorAsNew() {
    fly(4);
    EditedState state = new EditedState(estimator);
    EditedState damaged = new EditedState(estimator);
    damaged.bytes[100]++;
    assertFalse(estimator.restore(damaged.bytes, 0));
    assertFalse(estimator.airborne());
    // undamaged, but not a state: an infinite light is taken as the most there is, NaN is not
    state.set(EditedState.FILTER + Double.BYTES * State.EMF, NONE);
    assertFalse(estimator.restore(state.bytes, 0));
    assertFalse(estimator.airborne());
    assertEquals(0.3, estimator.stateSd(State.LIGHT), 1e-9, "the prior's sigma");
    reading.clear();
    estimator.coast(1, reading);
    assertEquals(Status.NO_ESTIMATE, reading.status(), "nothing has begun");
  }

  /** 22 K of rise by the sun make a sigma of the light too large for the cells' temperature. */
  @Test
  void aVarianceThatGrowsBeyondAllBoundsBeginsAnew() {
    fly(4);
    EditedState state = new EditedState(estimator).setCovariance(State.LIGHT, State.LIGHT, 9e8);
    assertTrue(estimator.restore(state.bytes, 0));
    estimator.coast(100_000_000_000L, reading);
    assertEquals(0.3, estimator.stateSd(State.LIGHT), 1e-9);
    assertEquals(Status.SENSOR_FAULT, reading.status());
    assertTrue(reading.availableWatts() > 0);
    flight.next();
    estimator.reading(100_020_000_000L, flight.busVolts, flight.busAmps, NONE, reading);
    assertEquals(Status.WARMING_UP, reading.status());
  }

  /** The first three are held back; the fourth one makes the state infinite. */
  @Test
  void aReadingThatBreaksTheStateBeginsAnewWithoutATrend() {
    flight = new TestFlight(t -> t < 4 ? 0.95 : 0.95 - 0.02 * (t - 4), t -> 0.45, 50, 3);
    fly(8);
    assertTrue(reading.secondsToZero() < Double.POSITIVE_INFINITY);
    for (int i = 0; i < 4; i++) {
      flight.next();
      double volts = Double.MAX_VALUE / (4 - i);
      estimator.update(0.02, volts, flight.busAmps, flight.throttle, NONE, reading);
    }
    assertEquals(Status.WARMING_UP, reading.status());
    assertTrue(reading.availableWatts() > 0);
    fly(flight.seconds + 2.2);
    assertEquals(Double.POSITIVE_INFINITY, reading.secondsToZero(), "the trend is new");
    assertEquals(Status.WARMING_UP, reading.status());
    assertEquals(flight.availableWatts, reading.availableWatts(), 0.3 * flight.availableWatts);
  }
}
