package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** The scalar form compared with the same filter in a general matrix library. */
class MatrixFilterTest {

  /**
   * The scalar form moves the point by its derivatives after a small step, the plain form solves it
   * again; and only the scalar form inflates the covariance for an outlier.
   */
  private static final double SETTLED = 0.002;

  private static final double SECONDS = 60;

  @Test
  void bothFormsAgree() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 4);
    MatrixFilter plain = new MatrixFilter(TestCraft.SETTINGS);
    MarginEstimator scalar = new MarginEstimator(TestCraft.SETTINGS);
    MarginReading reading = new MarginReading();
    double squared = 0;
    double squaredSd = 0;
    int judged = 0;
    while (flight.seconds < SECONDS) {
      flight.next();
      double watts = plain.update(0.02, flight.busVolts, flight.busAmps, flight.throttle);
      scalar.update(0.02, flight.busVolts, flight.busAmps, flight.throttle, Double.NaN, reading);
      if (flight.seconds > SECONDS / 2) {
        squared += Math.pow(scalar.medianWatts() / watts - 1, 2);
        squaredSd += Math.pow(scalar.filterLogSd() / plain.logSd() - 1, 2);
        judged++;
      }
    }
    assertTrue(judged > 1000);
    assertEquals(0, Math.sqrt(squared / judged), SETTLED, "available power, relative");
    assertEquals(0, Math.sqrt(squaredSd / judged), 0.02, "its sigma, relative");
  }
}
