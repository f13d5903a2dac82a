package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Rotors that spin up within the first samples, with cells warmer or cooler than in the profile:
 * the filter must not converge to a light and temperature that are both wrong.
 */
class SpinUpTest {

  private static final int FLIGHTS = 60;
  private static final double JUDGED_AFTER = 8;
  private static final double SECONDS = 25;

  /** Six sigmas of the filter's error on these flights. */
  private static final double MOST = 0.08;

  @ParameterizedTest
  @ValueSource(doubles = {-8, 0, 5, 8, 12})
  void theEstimateIsNeverFarTooHigh(double profileTooWarm) {
    EstimatorSettings settings = warmer(profileTooWarm);
    double most = 0;
    for (int seed = 1; seed <= FLIGHTS; seed++) {
      double spin = 0.02 + 0.02 * (seed % 4);
      TestFlight flight = new TestFlight(t -> 0.97, t -> t < spin ? 0.24 : 0.5, 50, seed);
      MarginEstimator estimator = new MarginEstimator(settings);
      MarginReading reading = new MarginReading();
      while (flight.seconds < SECONDS) {
        flight.next();
        estimator.update(
            0.02, flight.busVolts, flight.busAmps, flight.throttle, Double.NaN, reading);
        if (flight.seconds > JUDGED_AFTER) {
          most = Math.max(most, estimator.medianWatts() / flight.availableWatts - 1);
        }
      }
    }
    double worst = most;
    assertTrue(worst < MOST, () -> "too high by " + worst);
    assertTrue(worst > 0.01, () -> "implausibly small, as if there were no noise: " + worst);
  }

  private static EstimatorSettings warmer(double kelvin) {
    EstimatorSettings s = TestCraft.SETTINGS;
    EstimatorSettings.Thermal thermal = s.thermal();
    return new EstimatorSettings(
        s.cell(),
        s.cellSpread(),
        s.seriesCells(),
        s.parallelStrings(),
        new EstimatorSettings.Thermal(
            thermal.ambientCelsius() + kelvin,
            thermal.sunRiseKelvin(),
            thermal.timeConstantSeconds()),
        s.rotor(),
        s.sensors(),
        s.timing());
  }
}
