package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** An update by an outlier of about three sigmas against the same Kalman update in matrices. */
class HiddenStateOutlierTest {

  private final GivenFilter given = new GivenFilter();

  private static double square(double v) {
    return v * v;
  }

  /**
   * Above three sigmas of the voltage, the variance of the light grows until that innovation is one
   * sigma; of the current, that of the back-EMF. Slow states and constants keep their values, and
   * while the rotors spin up, half the step of the light is added to its sigma.
   */
  @ParameterizedTest
  @CsvSource({
    "3.2, 0, 5",
    "-3.2, 0, 1",
    "0, 3.3, 5",
    "0, -3.3, 1",
    "3.1, -3.4, 5",
    "2.9, 2.9, 5",
    "2.9, -3.1, 1"
  })
  void anOutlierInflatesWhatMayHaveJumped(double volts, double amps, double seconds) {
    given.filter.setAirborne(true, seconds);
    given.sample.voltsVariance = 1e-6;
    double[] x = given.states();
    RealMatrix p = given.covariance();
    OperatingPoint point = GivenFilter.solved(x, GivenFilter.THROTTLE);
    RealMatrix h =
        MatrixUtils.createRealMatrix(
            new double[][] {point.voltageJacobian(), point.currentJacobian()});
    RealMatrix r = MatrixUtils.createRealDiagonalMatrix(new double[] {1e-6 + 1e-6, 2.5e-3});
    RealMatrix s = h.multiply(p).multiplyTransposed(h).add(r);
    RealVector y =
        new ArrayRealVector(
            new double[] {volts * Math.sqrt(s.getEntry(0, 0)), amps * Math.sqrt(s.getEntry(1, 1))});
    given.sample.volts = point.volts() + y.getEntry(0);
    given.sample.amps = point.amps() + y.getEntry(1);
    boolean outlier = Math.max(Math.abs(volts), Math.abs(amps)) > 3;
    if (Math.abs(volts) > 3) {
      double needed = square(y.getEntry(0)) - s.getEntry(0, 0);
      p.addToEntry(State.LIGHT, State.LIGHT, needed / square(h.getEntry(0, State.LIGHT)));
    }
    if (Math.abs(amps) > 3) {
      double needed = square(y.getEntry(1)) - s.getEntry(1, 1);
      p.addToEntry(State.EMF, State.EMF, needed / square(h.getEntry(1, State.EMF)));
    }
    RealMatrix inflated = h.multiply(p).multiplyTransposed(h).add(r);
    RealMatrix gain = p.multiplyTransposed(h).multiply(MatrixUtils.inverse(inflated));
    RealVector moved = gain.operate(y);
    RealMatrix after = p.subtract(gain.multiply(inflated).multiplyTransposed(gain));
    assertTrue(given.filter.correct(given.sample, false));
    assertEquals(outlier, given.filter.outlier());
    boolean spinsUp = outlier && seconds < 3;
    assertFast(x, p, moved, after, spinsUp);
    assertSlow(x, p, moved, after, outlier);
  }

  private void assertFast(
      double[] x, RealMatrix p, RealVector moved, RealMatrix after, boolean spinsUp) {
    for (int j : new int[] {State.LIGHT, State.EMF, State.GUST}) {
      double sd = Math.sqrt(p.getEntry(j, j));
      assertEquals(x[j] + moved.getEntry(j), given.filter.state(j), 1e-5 * sd, "state " + j);
      double spinUp = j == State.LIGHT && spinsUp ? square(0.5 * moved.getEntry(j)) : 0;
      assertEquals(
          after.getEntry(j, j) + spinUp,
          given.filter.covariance().get(j, j),
          1e-5 * p.getEntry(j, j),
          "variance " + j);
    }
  }

  private void assertSlow(
      double[] x, RealMatrix p, RealVector moved, RealMatrix after, boolean outlier) {
    for (int j : new int[] {State.CELL, State.PROPULSION, State.WINDING, State.AIR}) {
      double step = outlier ? 0 : moved.getEntry(j);
      assertEquals(x[j] + step, given.filter.state(j), 1e-6, "state " + j);
      double variance = outlier ? p.getEntry(j, j) : after.getEntry(j, j);
      assertEquals(variance, given.filter.covariance().get(j, j), 1e-6 * variance, "variance " + j);
    }
  }
}
