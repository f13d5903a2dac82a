package org.solarmargin.core.limiter;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Readings;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.rotor.RotorLoad;

class ThrottleLimiterTest {

  private static final double CEILING = 0.6;
  private static final MarginReading SHARP = Readings.of(Status.SHARP, 120, 100, CEILING);

  private final ThrottleLimiter limiter = new ThrottleLimiter();

  @Test
  void anExactEstimateGivesTheCeilingItself() {
    assertEquals(CEILING, limiter.cap(Readings.of(Status.SHARP, 120, 120, CEILING), true), 1e-15);
  }

  /**
   * The throttle that draws the geometric mean of estimate and bound by the rotor's own equations,
   * within half a percent of throttle, for the copper losses of real motors (2 to 12 % of the
   * winding voltage; common practice, no source).
   */
  @ParameterizedTest
  @ValueSource(doubles = {0.02, 0.06, 0.12})
  void theCapDrawsTheMeanOfEstimateAndBound(double copperShare) {
    double windingVolts = CEILING * 27.5;
    double ohms = RotorLoad.ohmsFrom(120, windingVolts, copperShare);
    double propulsion = RotorLoad.propulsionFrom(120, windingVolts, copperShare);
    double emf = RotorLoad.backEmfFor(Math.sqrt(120 * 100), ohms, propulsion, 0);
    double throttle = RotorLoad.windingVolts(emf, ohms, propulsion) / 27.5;
    assertEquals(throttle, limiter.cap(SHARP, true), 0.005 * throttle);
  }

  @ParameterizedTest
  @EnumSource(names = {"SHARP", "COARSE", "PAST_KNEE"})
  void usableReadingsLimitTheThrottle(Status status) {
    double cap = limiter.cap(Readings.of(status, 120, 100, CEILING), true);
    assertTrue(cap < CEILING && cap > 0.9 * CEILING, "cap " + cap);
    assertEquals(cap, limiter.last(), 0);
  }

  @ParameterizedTest
  @EnumSource(names = {"NO_ESTIMATE", "IDLE", "WARMING_UP", "SENSOR_FAULT"})
  void otherReadingsKeepTheCap(Status status) {
    MarginReading other = Readings.of(status, 60, 30, 0.4);
    assertEquals(1, limiter.cap(other, true), 0);
    double cap = limiter.cap(SHARP, true);
    assertEquals(cap, limiter.cap(other, true), 0);
  }

  @Test
  void onTheGroundThereIsNoLimit() {
    limiter.cap(SHARP, true);
    assertEquals(1, limiter.cap(SHARP, false), 0);
    assertEquals(1, limiter.cap(Readings.of(Status.WARMING_UP, 120, 30, 0.5), true), 0);
  }

  @Test
  void aLowerBoundThatFallsLowersTheCap() {
    double before = 1;
    for (double low = 120; low >= 0; low -= 10) {
      double cap = limiter.cap(Readings.of(Status.COARSE, 120, low, CEILING), true);
      assertTrue(cap < before, "cap " + cap + " at " + low + " W");
      before = cap;
    }
    assertEquals(0, before, 0);
  }

  @Test
  void noPowerMeansNoThrottle() {
    assertEquals(0, limiter.cap(Readings.of(Status.PAST_KNEE, 0, 0, 0.3), true), 0);
  }

  @Test
  void resetRemovesTheCap() {
    limiter.cap(SHARP, true);
    limiter.reset();
    assertEquals(1, limiter.last(), 0);
  }
}
