package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.timing.TimeModel;

/**
 * The scalar filter against the matrix form, every state and covariance over the first seconds of a
 * flight, learning of constants included.
 */
class MatrixStepsTest {

  /** In the first samples both solve the same point: rounding and the end of iterations. */
  private static final double SAME = 1e-6;

  /** After a small step the scalar form shifts the point along its derivatives; sigmas. */
  private static final double SHIFTED = 0.02;

  private static final double SHIFTED_COVARIANCE = 0.02;

  @ParameterizedTest
  @ValueSource(longs = {4, 5})
  void everyStateIsThatOfTheMatrixForm(long seed) {
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, seed);
    MatrixFilter plain = new MatrixFilter(TestCraft.SETTINGS);
    AlignedFilter scalar = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
    for (int i = 0; i < 200; i++) {
      flight.next();
      long nanos = i * 20_000_000L;
      plain.update(0.02, flight.busVolts, flight.busAmps, flight.throttle);
      scalar.command(nanos, flight.throttle);
      scalar.reading(nanos, flight.busVolts, flight.busAmps, Double.NaN);
      assertTrue(scalar.predict());
      scalar.filter().setAirborne(true, i * 0.02);
      assertTrue(scalar.correct(false));
      assertSame(plain, scalar.filter(), i < 4 ? SAME : SHIFTED, "sample " + i);
    }
  }

  private static void assertSame(
      MatrixFilter plain, HiddenStateFilter scalar, double states, String at) {
    double covariances = Math.min(states, SHIFTED_COVARIANCE);
    assertEquals(plain.lightDrift(), scalar.lightDrift(), 0.1 * plain.lightDrift(), at);
    for (int j = 0; j < State.UNFILTERED; j++) {
      double sd = Math.sqrt(plain.covariance(j, j));
      assertEquals(plain.state(j), scalar.state(j), states * sd, at + ", state " + j);
      for (int k = 0; k <= j; k++) {
        double scale = sd * Math.sqrt(plain.covariance(k, k));
        assertEquals(
            plain.covariance(j, k),
            scalar.covariance().get(j, k),
            covariances * scale,
            at + ", covariance of " + j + " and " + k);
      }
    }
    assertEquals(Math.exp(plain.state(State.LIGHT)), scalar.suns(), states, at);
    assertTrue(scalar.healthy());
  }
}
