package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/**
 * Constants of cells and sensors on flights drawn from the filter's own model, with gusts weaker
 * than it assumes: their estimates must be unbiased and consistent with their sigmas.
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
   * Minutes of calm with a craft that matches its profile. With the Jacobian taken at the newest
   * estimate, whose noise is correlated with the innovation, four of the constants end with errors
   * of 1.8 to 2.9 sigmas.
   */
  @Test
  void constantsDoNotDriftInCalm() {
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
   * If the sigmas are right, the sum over the flights of the squared errors in sigmas has a
   * chi-square distribution with as many degrees of freedom. The limits include all constants with
   * 99 % probability; for 96 flights they are an rms of 0.78 to 1.23.
   */
  @Test
  void theSigmasOfTheConstantsAreConsistent() {
    double least = Math.sqrt(chiSquareOverDegrees(FLIGHTS, -BONFERRONI_99));
    double most = Math.sqrt(chiSquareOverDegrees(FLIGHTS, BONFERRONI_99));
    for (int i = 0; i < CONSTANTS; i++) {
      double rms = Math.sqrt(SQUARE[i]);
      assertTrue(rms > least && rms < most, "rms error in sigmas of constant " + i + ": " + rms);
    }
  }

  /**
   * Quantile divided by degrees (Wilson and Hilferty, PNAS 17, 1931), within 0.3 % at 96 degrees.
   */
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
