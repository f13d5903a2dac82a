package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** The scalar filter against the matrix form, state by state, over the first seconds of a flight. */
class MatrixStepsTest {

  @Test
  void measure() {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 4);
    MatrixFilter plain = new MatrixFilter(TestCraft.SETTINGS);
    MarginEstimator scalar = new MarginEstimator(TestCraft.SETTINGS);
    MarginReading reading = new MarginReading();
    while (flight.seconds < 6) {
      flight.next();
      double watts = plain.update(0.02, flight.busVolts, flight.busAmps, flight.throttle);
      scalar.update(0.02, flight.busVolts, flight.busAmps, flight.throttle, Double.NaN, reading);
      int i = (int) Math.round(flight.seconds * 50);
      if (i < 6 || i % 25 == 0) System.out.printf("MM %.2f watts %.2e sd %.2e%n", flight.seconds, scalar.medianWatts() / watts - 1, scalar.filterLogSd() / plain.logSd() - 1);
    }
    assertEquals(0, 0);
  }
}
