package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.rotor.RotorLoad;

/**
 * What is reported of the filter's state, worked out from median, sigma and load as the constants'
 * own words have it; the first six seconds, before uneven light is looked for.
 */
class MarginReportTest {

  private static final double NONE = Double.NaN;
  private static final double HOUSE = 3.5;
  private final MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
  private final MarginReading reading = new MarginReading();

  private boolean feed(TestFlight flight) {
    flight.next();
    return estimator.update(0.02, flight.busVolts, flight.busAmps, flight.throttle, NONE, reading);
  }

  private static double ramp(double value, double from, double to) {
    return value <= from ? 0 : value >= to ? 1 : (value - from) / (to - from);
  }

  /** Sigma of the logarithm: the filter's, 1.6 % of the array's model, 3 % near full load. */
  private double logSd() {
    double near = ramp(reading.steadyDemandWatts() / estimator.medianWatts(), 0.6, 0.85);
    double filter = estimator.filterLogSd();
    return Math.sqrt(filter * filter + 0.016 * 0.016 + 0.03 * 0.03 * near * near);
  }

  @ParameterizedTest
  @CsvSource({"0.9, 0.4", "0.9, 0.5", "0.75, 0.52", "0.65, 0.53"})
  void estimateAndBoundAreThoseOfMedianSigmaAndLoad(double suns, double throttle) {
    TestFlight flight = new TestFlight(t -> suns, t -> throttle, 50, 3);
    double demand = NONE;
    for (int i = 0; i < 290; i++) {
      assertTrue(feed(flight));
      assertTrue(estimator.advanced());
      double median = estimator.medianWatts();
      double sd = logSd();
      double load = reading.steadyDemandWatts() / median;
      double bias = 0.14 * (1 - ramp(load, 0.55, 0.75)) * sd;
      assertEquals(median * Math.exp(-bias), reading.availableWatts(), 1e-9 * median);
      double low = median * Math.exp(-1.9 * sd);
      assertEquals(low, reading.availableLowWatts(), 1e-9 * median);
      assertEquals(median * Math.exp(-1.6449 * sd), estimator.alertLowWatts(), 1e-9 * median);
      demand = Math.max(flight.busVolts * flight.busAmps, 0);
      assertEquals(demand, reading.demandWatts(), 1e-9);
      assertEquals(Math.exp(estimator.state(State.LIGHT)), reading.suns(), 1e-9);
      assertEquals(estimator.state(State.CELL), reading.cellCelsius());
      assertEquals(0, reading.unevenLightProbability());
      assertFalse(reading.thermometerLeftOut());
      assertFalse(estimator.averaging());
      assertStatus(i * 0.02, sd);
      assertCeiling();
    }
    assertEquals(demand, reading.steadyDemandWatts(), 0.15 * demand);
  }

  private void assertStatus(double airborne, double sd) {
    boolean warm = airborne > 3 - 1e-9 && sd <= 0.15;
    Status expected = !warm ? Status.WARMING_UP : sd <= 0.05 ? Status.SHARP : Status.COARSE;
    assertEquals(expected, reading.status(), "after " + airborne + " s, sigma " + sd);
  }

  /**
   * The throttle at which the rotors' steady power is what is available beside housekeeping, at the
   * peak's voltage; from 80 to 95 % load it moves to the lower bound at the present voltage.
   */
  private void assertCeiling() {
    double ohms = Math.exp(estimator.state(State.WINDING));
    double propulsion = Math.exp(estimator.state(State.PROPULSION));
    double available = reading.availableWatts();
    double close = ramp(reading.steadyDemandWatts() / available, 0.8, 0.95);
    double motors = available + close * (reading.availableLowWatts() - available) - HOUSE;
    double peak = reading.peakVolts();
    double volts = peak + close * Math.max(estimator.busVolts() - peak, 0);
    if (reading.throttleCeiling() == 1) {
      double emf = RotorLoad.steadyBackEmf(volts, ohms, propulsion);
      assertTrue(propulsion * emf * emf * volts <= motors * (1 + 1e-9));
      return;
    }
    double winding = reading.throttleCeiling() * volts;
    double emf = RotorLoad.steadyBackEmf(winding, ohms, propulsion);
    assertEquals(motors, propulsion * emf * emf * winding, 1e-3 * motors);
  }

  /** A step of the demand comes through a lag of 0.1 s. */
  @Test
  void theSteadyDemandFollowsByATenthOfASecond() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> t < 2 ? 0.45 : 0.5, 50, 3);
    double steady = NONE;
    while (flight.seconds < 2.5) {
      feed(flight);
      double seen = reading.steadyDemandWatts();
      if (flight.seconds > 0.1) {
        // the true demand at this instant is within its noise of what the lag took in
        double taken = steady + (seen - steady) / (1 - Math.exp(-0.02 / 0.1));
        assertEquals(flight.demandWatts, taken, 0.06 * flight.demandWatts);
      }
      steady = seen;
    }
  }

  @Test
  void onTheGroundItIsIdle() {
    TestFlight flight = new TestFlight(t -> 0.5, t -> 0.05, 50, 3);
    for (int i = 0; i < 100; i++) {
      feed(flight);
      assertEquals(Status.IDLE, reading.status());
      assertFalse(estimator.airborne());
      assertFalse(estimator.kneeByPowerDrop());
      assertFalse(estimator.kneeByModel());
    }
  }

  /**
   * A throttle beyond the ceiling collapses the bus: the model says so after a tenth of a second.
   */
  @Test
  void pastTheKneeAfterATenthOfASecondUnderItsVoltage() {
    TestFlight flight = new TestFlight(t -> 0.62, t -> t < 5 ? 0.5 : 0.9, 50, 3);
    double under = 0;
    int seen = 0;
    boolean was = false;
    while (flight.seconds < 5.6) {
      feed(flight);
      assertEquals(
          estimator.kneeByModel() || estimator.kneeByPowerDrop(),
          reading.status() == Status.PAST_KNEE);
      under = flight.trueVolts < 0.97 * flight.peakVolts ? under + 0.02 : 0;
      if (estimator.kneeByModel()) {
        seen++;
        assertTrue(was || under > 0.03, "under the knee for " + under);
      }
      was = estimator.kneeByModel();
      assertTrue(estimator.kneeByModel() || under < 0.3, "for " + under + " s");
    }
    assertTrue(seen > 5);
  }

  @Test
  void aSpikeIsHeldBackAndTwoThatAgreeAreBelieved() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    while (flight.seconds < 4) {
      assertTrue(feed(flight));
    }
    double before = reading.availableWatts();
    flight.next();
    assertFalse(
        estimator.update(
            0.02, flight.busVolts / 2, flight.busAmps, flight.throttle, NONE, reading));
    assertEquals(Status.SENSOR_FAULT, reading.status());
    assertEquals(before, reading.availableWatts(), 0.01 * before, "nothing was corrected");
    assertTrue(feed(flight), "the next one is good");
    flight.next();
    double low = flight.busVolts / 2;
    assertFalse(estimator.update(0.02, low, flight.busAmps, flight.throttle, NONE, reading));
    flight.next();
    assertFalse(
        estimator.update(0.02, low - 6, flight.busAmps, flight.throttle, NONE, reading),
        "another one that does not agree");
    flight.next();
    assertTrue(
        estimator.update(0.02, low - 6.1, flight.busAmps, flight.throttle, NONE, reading),
        "and one that does");
  }

  @Test
  void atMostThreeAreHeldBack() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    while (flight.seconds < 4) {
      feed(flight);
    }
    double[] volts = {14, 9, 5, 2};
    for (int i = 0; i < volts.length; i++) {
      flight.next();
      assertEquals(
          i == 3,
          estimator.update(0.02, volts[i], flight.busAmps, flight.throttle, NONE, reading),
          "spike " + i);
    }
  }

  @Test
  void slowSamplesAreNotHeldBack() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 4, 3);
    for (int i = 0; i < 20; i++) {
      flight.next();
      estimator.update(0.25, flight.busVolts, flight.busAmps, flight.throttle, NONE, reading);
    }
    flight.next();
    assertTrue(
        estimator.update(
            0.25, flight.busVolts / 2, flight.busAmps, flight.throttle, NONE, reading));
  }

  @Test
  void whereOneReadingIsAbsentTheDemandIsThatOfTheAlignedOnes() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    while (flight.seconds < 1) {
      feed(flight);
    }
    double volts = flight.busVolts;
    flight.next();
    estimator.update(0.02, NONE, flight.busAmps, flight.throttle, NONE, reading);
    assertEquals(volts * flight.busAmps, reading.demandWatts(), 1e-9);
    flight.next();
    estimator.update(0.02, flight.busVolts, -1, flight.throttle, NONE, reading);
    assertEquals(0, reading.demandWatts(), "no power below none");
  }

  @Test
  void timeWithoutReadingsWidensTheIntervalAndKeepsTheDemand() {
    estimator.coast(1, reading);
    assertEquals(Status.NO_ESTIMATE, reading.status(), "nothing has begun");
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    while (flight.seconds < 4) {
      feed(flight);
    }
    double demand = reading.steadyDemandWatts();
    double share = reading.availableLowWatts() / reading.availableWatts();
    long now = 202 * 20_000_000L;
    for (int i = 1; i <= 3; i++) {
      estimator.coast(now + i * 1_000_000_000L, reading);
      assertEquals(Status.SENSOR_FAULT, reading.status());
      assertEquals(demand, reading.demandWatts());
      assertEquals(demand, reading.steadyDemandWatts());
      double next = reading.availableLowWatts() / reading.availableWatts();
      assertTrue(next < share, "second " + i);
      share = next;
    }
  }

  @Test
  void aSavedStateIsTakenUpByTheSameSettingsAlone() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    while (flight.seconds < 4) {
      feed(flight);
    }
    byte[] state = new byte[MarginEstimator.STATE_BYTES];
    estimator.save(state);
    assertThrows(IllegalArgumentException.class, () -> estimator.save(new byte[state.length - 1]));
    MarginEstimator other = new MarginEstimator(TestCraft.SETTINGS);
    assertTrue(other.restore(state, 77));
    assertTrue(other.airborne());
    for (int j = 0; j < State.UNFILTERED; j++) {
      assertEquals(estimator.state(j), other.state(j), 0, "state " + j);
      assertEquals(estimator.stateSd(j), other.stateSd(j), 1e-4 * estimator.stateSd(j));
    }
    MarginReading restored = new MarginReading();
    flight.next();
    estimator.update(0.02, flight.busVolts, flight.busAmps, flight.throttle, NONE, reading);
    other.update(0.02, flight.busVolts, flight.busAmps, flight.throttle, NONE, restored);
    assertEquals(reading.availableWatts(), restored.availableWatts(), 0.01);
    assertEquals(reading.steadyDemandWatts(), restored.steadyDemandWatts(), 0.05);
    assertEquals(reading.status(), restored.status(), "no warming up");
    EstimatorSettings foreign =
        TestCraft.SETTINGS.withTiming(org.solarmargin.core.timing.TimeModel.UNKNOWN);
    assertFalse(new MarginEstimator(foreign).restore(state, 0));
    byte[] unstarted = new byte[MarginEstimator.STATE_BYTES];
    new MarginEstimator(TestCraft.SETTINGS).save(unstarted);
    assertFalse(other.restore(unstarted, 0), "nothing to take up");
    assertFalse(other.airborne());
    for (int i = 0; i < state.length; i += 97) {
      byte[] damaged = state.clone();
      damaged[i] ^= 4;
      assertFalse(other.restore(damaged, 0), "byte " + i);
    }
  }
}
