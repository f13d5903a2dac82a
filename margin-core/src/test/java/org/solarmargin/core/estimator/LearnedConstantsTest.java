package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * Constants of cells and sensors on flights drawn from the filter's own model, with gusts weaker
 * than it assumes: what is learned must be true, and as sure as it says.
 */
class LearnedConstantsTest {

  private static final int FLIGHTS = 96;
  private static final double SECONDS = 90;
  private static final double GUST_SHARE = 0.25;
  private static final int CALM_FLIGHTS = 4;
  private static final double CALM_SECONDS = 400;
  private static final int CONSTANTS = State.UNFILTERED - State.ESTIMATED;

  /** Normal quantile of 1 - 0.01 / 2 / 7: two sides, seven constants (Bonferroni). */
  private static final double BONFERRONI_99 = 3.189;

  private static final double[] SQUARE = new double[CONSTANTS];
  private static double seriesSquaredError;
  private static double seriesVariance;

  @BeforeAll
  static void fly() {
    double drift = EdgeDetector.CALM_LIGHT_DRIFT;
    for (int seed = 1; seed <= FLIGHTS; seed++) {
      ModelFlight flight = new ModelFlight(TestCraft.SETTINGS, t -> drift, GUST_SHARE, 900 + seed);
      MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
      MarginReading reading = new MarginReading();
      for (double t = 0; t < SECONDS; t += ModelFlight.STEP) {
        estimator.update(
            ModelFlight.STEP,
            flight.busVolts,
            flight.busAmps,
            flight.throttle,
            Double.NaN,
            reading);
        flight.next();
      }
      for (int i = 0; i < CONSTANTS; i++) {
        int state = State.ESTIMATED + i;
        double z = (estimator.state(state) - flight.x[state]) / estimator.stateSd(state);
        SQUARE[i] += z * z / FLIGHTS;
      }
      double error = estimator.state(State.SERIES) - flight.x[State.SERIES];
      seriesSquaredError += error * error / FLIGHTS;
      seriesVariance += Math.pow(estimator.stateSd(State.SERIES), 2) / FLIGHTS;
    }
  }

  /**
   * Minutes of calm with a craft that is as its profile says. With the rows taken at the newest
   * estimate, which has the noise of the innovation in it, four of the five end 1.8 to 2.9 sigmas
   * off.
   */
  @Test
  void nothingDrifts() {
    double[] mean = new double[CONSTANTS];
    for (int seed = 1; seed <= CALM_FLIGHTS; seed++) {
      TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, seed);
      MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
      MarginReading reading = new MarginReading();
      while (flight.seconds < CALM_SECONDS) {
        flight.next();
        estimator.update(
            0.02, flight.busVolts, flight.busAmps, flight.throttle, Double.NaN, reading);
      }
      for (int i = 0; i < CONSTANTS; i++) {
        int state = State.ESTIMATED + i;
        mean[i] += estimator.state(state) / estimator.stateSd(state) / CALM_FLIGHTS;
      }
    }
    for (int i = 0; i < CONSTANTS; i++) {
      assertEquals(0, mean[i], 1, "mean error in sigmas of constant " + i);
    }
  }

  /**
   * If the sigmas are true, the squared errors in sigmas of all flights add up to a chi-square of
   * as many degrees: within the interval that holds all constants in 99 %. For 96 flights that is
   * an rms of 0.78 to 1.23.
   */
  @Test
  void theyAreAsSureAsTheySay() {
    double least = Math.sqrt(chiSquareOverDegrees(FLIGHTS, -BONFERRONI_99));
    double most = Math.sqrt(chiSquareOverDegrees(FLIGHTS, BONFERRONI_99));
    for (int i = 0; i < CONSTANTS; i++) {
      double rms = Math.sqrt(SQUARE[i]);
      assertTrue(rms > least && rms < most, "rms error in sigmas of constant " + i + ": " + rms);
    }
  }

  /** Quantile over degrees (Wilson and Hilferty, PNAS 17, 1931), within 0.3 % at 96 degrees. */
  private static double chiSquareOverDegrees(int degrees, double normalQuantile) {
    double variance = 2.0 / (9 * degrees);
    return Math.pow(1 - variance + normalQuantile * Math.sqrt(variance), 3);
  }

  @Test
  void seriesResistanceIsLearned() {
    double stated = TestCraft.SETTINGS.cellSpread().seriesLogSd();
    double sd = Math.sqrt(seriesVariance);
    double rms = Math.sqrt(seriesSquaredError);
    assertTrue(sd < 0.75 * stated, () -> "sigma left " + sd + " of " + stated);
    assertTrue(rms < 0.75 * stated, () -> "error left " + rms + " of " + stated);
  }
}
