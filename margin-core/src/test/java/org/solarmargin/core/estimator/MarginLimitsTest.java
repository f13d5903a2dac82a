package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Times and distances at which the estimator decides: each limit on both sides. */
class MarginLimitsTest {

  private static final double NONE = Double.NaN;
  private final MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
  private final MarginReading reading = new MarginReading();

  private boolean feed(TestFlight flight, double step) {
    flight.next();
    return estimator.update(step, flight.busVolts, flight.busAmps, flight.throttle, NONE, reading);
  }

  /** At two samples per second, seconds and halves are exact. */
  @Test
  void statusAndWatchOfShadowsBeginAfterThreeAndSixSeconds() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 2, 3);
    for (int i = 0; i <= 14; i++) {
      feed(flight, 0.5);
      Status status = reading.status();
      assertEquals(i < 6, status == Status.WARMING_UP, "at " + 0.5 * i);
      EditedState state = new EditedState(estimator);
      assertEquals(i > 12, state.unevenStarted(), "at " + 0.5 * i);
      assertEquals(0.5 * i, state.get(EditedState.EVEN_SECONDS));
      assertEquals(0.5 * i, state.get(EditedState.FLIGHT_SECONDS));
    }
  }

  /** Half a second in the air: up to then nothing is held back. */
  @ParameterizedTest
  @CsvSource({"5, false", "6, true"})
  void spikesAreHeldBackAfterHalfASecond(int sample, boolean held) {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 10, 3);
    for (int i = 0; i < sample; i++) {
      feed(flight, 0.1);
    }
    flight.next();
    assertEquals(!held, estimator.update(0.1, 2, flight.busAmps, flight.throttle, NONE, reading));
  }

  /** 8 sigmas of 0.02 V and a tenth: from 14 V down to 12.44 V; of the current 0.9 A from 5 A. */
  @ParameterizedTest
  @CsvSource({
    "14, 12.45, 5, 5, true",
    "14, 12.42, 5, 5, false",
    "12.45, 14, 5, 5, true",
    "12.42, 14, 5, 5, false",
    "14, 14, 5, 4.11, true",
    "14, 14, 5, 4.09, false",
    "14, 14, 4.11, 5, true",
    "14, 14, 4.09, 5, false"
  })
  void twoOutliersAgreeWithinEightSigmasAndATenth(
      double volts, double nextVolts, double amps, double nextAmps, boolean agree) {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    for (int i = 0; i < 200; i++) {
      feed(flight, 0.02);
    }
    flight.next();
    assertFalse(estimator.update(0.02, volts, amps, flight.throttle, NONE, reading));
    flight.next();
    assertEquals(
        agree, estimator.update(0.02, nextVolts, nextAmps, flight.throttle, NONE, reading));
  }

  /** A throttle that rises while the power falls: by the readings alone, in the air alone. */
  @ParameterizedTest
  @CsvSource({"0.45, true", "0.05, false"})
  void aRiseOfTheThrottleThatTakesPowerIsPastTheKnee(double throttle, boolean airborne) {
    TestFlight flight = new TestFlight(t -> 0.9, t -> throttle, 50, 3);
    for (int i = 0; i < 100; i++) {
      feed(flight, 0.02);
      assertFalse(estimator.kneeByPowerDrop());
    }
    double rise = 0;
    double watts = flight.busVolts * flight.busAmps;
    for (int i = 0; i < 25; i++) {
      flight.next();
      rise += 0.004;
      double amps = watts * (1 - 2 * rise) / flight.busVolts;
      estimator.update(0.02, flight.busVolts, amps, throttle + rise, NONE, reading);
    }
    assertEquals(airborne, estimator.airborne());
    assertEquals(airborne, estimator.kneeByPowerDrop());
    assertEquals(airborne ? Status.PAST_KNEE : Status.IDLE, reading.status());
  }

  /**
   * The product of voltage and current counts: a voltage that rises as the current falls is none.
   */
  @Test
  void aRiseOfTheThrottleAtConstantPowerIsNot() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.45, 50, 3);
    for (int i = 0; i < 100; i++) {
      feed(flight, 0.02);
    }
    double watts = flight.busVolts * flight.busAmps;
    for (int i = 0; i < 25; i++) {
      flight.next();
      double volts = flight.busVolts * (1 + 0.004 * i);
      estimator.update(0.02, volts, watts / volts, 0.45 + 0.004 * i, NONE, reading);
      assertFalse(estimator.kneeByPowerDrop());
    }
  }

  @Test
  void aThermometerThatDeviatesIsReported() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    boolean leftOut = false;
    for (int i = 0; i < 400; i++) {
      flight.next();
      double celsius = flight.cellCelsius + (i < 200 ? 0 : 60);
      estimator.update(0.02, flight.busVolts, flight.busAmps, flight.throttle, celsius, reading);
      assertTrue(i >= 200 || !reading.thermometerLeftOut());
      leftOut |= reading.thermometerLeftOut();
    }
    assertTrue(leftOut);
  }

  /** The reserved number behind the fingerprint is 0; a state with another one is not read. */
  @Test
  void aStateOfAnotherFormIsRefused() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    for (int i = 0; i < 100; i++) {
      feed(flight, 0.02);
    }
    for (int at : new int[] {0, 4, 8, 12}) {
      EditedState state = new EditedState(estimator);
      assertTrue(new MarginEstimator(TestCraft.SETTINGS).restore(state.bytes, 0));
      state.bytes[at + 3] ^= 1;
      state.set(EditedState.STEADY_DEMAND, 80);
      assertFalse(new MarginEstimator(TestCraft.SETTINGS).restore(state.bytes, 0), "at " + at);
    }
  }
}
