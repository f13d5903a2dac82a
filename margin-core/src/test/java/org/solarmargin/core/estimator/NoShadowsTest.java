package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/**
 * Without shadows in the profile, the bound has no allowance for shadows, even on a long flight.
 */
class NoShadowsTest {

  @Test
  void aShareOfZeroMeansNoShadowEver() {
    EstimatorSettings s = TestCraft.SETTINGS;
    EstimatorSettings none =
        new EstimatorSettings(
            s.cell(),
            s.cellSpread(),
            s.seriesCells(),
            s.parallelStrings(),
            s.thermal(),
            s.rotor(),
            s.sensors(),
            s.timing(),
            0);
    double gap = gapAfterTenMinutes(none);
    double usual = gapAfterTenMinutes(s);
    assertTrue(gap < 0.8 * usual, gap + " without shadows, " + usual + " with some");
  }

  private static double gapAfterTenMinutes(EstimatorSettings settings) {
    MarginEstimator estimator = new MarginEstimator(settings);
    MarginReading reading = new MarginReading();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.46, 50, 3);
    while (flight.seconds < 600) {
      flight.next();
      estimator.update(0.02, flight.busVolts, flight.busAmps, flight.throttle, Double.NaN, reading);
      if (settings.shadowShare() == 0) {
        assertEquals(0, reading.unevenLightProbability());
      }
    }
    return 1 - reading.availableLowWatts() / reading.availableWatts();
  }
}
