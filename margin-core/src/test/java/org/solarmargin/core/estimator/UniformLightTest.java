package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Three states in scalar form against the same Kalman filter in matrices of Hipparchus. */
class UniformLightTest {

  private static final double LEVEL = 0.04;

  @Test
  void itIsAKalmanFilter() {
    UniformLight uniform = new UniformLight(LEVEL);
    RealVector x = new ArrayRealVector(3);
    RealMatrix p = new Array2DRowRealMatrix(3, 3);
    p.setEntry(0, 0, LEVEL);
    uniform.stateSlope(0.5);
    p.setEntry(1, 1, 0.5);
    Random random = new Random(2);
    for (int i = 0; i < 60; i++) {
      uniform.predict(0.9, 0.95, 0.5, 0.01);
      RealMatrix f = MatrixUtils.createRealDiagonalMatrix(new double[] {0.9, 0.95, 1});
      RealMatrix q =
          MatrixUtils.createRealDiagonalMatrix(
              new double[] {(1 - 0.9 * 0.9) * LEVEL, (1 - 0.95 * 0.95) * 0.5, 0.01});
      x = f.operate(x);
      p = f.multiply(p).multiply(f).add(q);
      double residual = 0.3 * random.nextGaussian();
      double beside = random.nextGaussian();
      double perDepth = 1 + 0.3 * random.nextGaussian();
      RealVector row = new ArrayRealVector(new double[] {1, beside, perDepth});
      double variance = p.operate(row).dotProduct(row) + 0.05;
      // the depth's share is in the residual already
      double y = residual - x.getEntry(0) - beside * x.getEntry(1);
      RealVector gain = p.operate(row).mapDivide(variance);
      x = x.add(gain.mapMultiply(y));
      p = p.subtract(gain.outerProduct(gain).scalarMultiply(variance));
      assertTrue(y * y < 9 * variance, "no edge");
      double log = uniform.follow(residual, beside, perDepth, 0.05, 0.25);
      assertEquals(-0.5 * (y * y / variance + 0.25 * Math.log(variance)), log, 1e-9);
      assertEquals(x.getEntry(0), uniform.offset(), 1e-9);
      assertEquals(x.getEntry(1), uniform.slope(), 1e-9);
      assertEquals(x.getEntry(2), uniform.depth(), 1e-9);
    }
    assertTrue(uniform.healthy());
    UniformLight other = new UniformLight(LEVEL);
    other.read(WrittenState.reread(8 * UniformLight.STATE_NUMBERS, uniform::write));
    assertEquals(uniform.depth(), other.depth());
    assertEquals(uniform.follow(0.1, 1, 1, 0.05, 1), other.follow(0.1, 1, 1, 0.05, 1));
    uniform.reset();
    assertEquals(0, uniform.offset());
    assertEquals(0, uniform.slope());
    assertEquals(0, uniform.depth());
    assertEquals(
        new UniformLight(LEVEL).follow(0.1, 1, 1, 0.05, 1), uniform.follow(0.1, 1, 1, 0.05, 1));
  }

  /** A single wrong reading moves the depth as far as it says, the slow errors by 5 sigmas. */
  @Test
  void aWrongReadingHardlyMovesTheSlowErrors() {
    UniformLight uniform = new UniformLight(LEVEL);
    uniform.follow(-30, 0, 2, 0.0225, 1);
    double variance = LEVEL + 0.0225 + 4 * 0.01;
    assertEquals(-5 * LEVEL / Math.sqrt(variance), uniform.offset(), 1e-9);
    assertEquals(-3, uniform.depth(), "the deepest");
  }

  /** Beyond three sigmas the light has an edge: its variance grows by 0.01, and it costs 4.5. */
  @ParameterizedTest
  @CsvSource({"0.749, 0, 0", "0.751, 0.01, 4.5", "-0.751, 0.01, 4.5"})
  void anEdgeWidensTheDepth(double residual, double depthVariance, double cost) {
    UniformLight uniform = new UniformLight(LEVEL);
    // a variance of 0.0625: the level's and the noise
    double variance = 0.0625 + 4 * depthVariance;
    double log = uniform.follow(residual, 0, 2, 0.0225, 1);
    assertEquals(-0.5 * (residual * residual / variance + Math.log(variance)) - cost, log, 1e-9);
    assertEquals(2 * depthVariance * residual / variance, uniform.depth(), 1e-9);
    assertEquals(LEVEL * residual / variance, uniform.offset(), 1e-9);
  }

  @Test
  void theDepthStaysBetweenItsBounds() {
    UniformLight uniform = new UniformLight(LEVEL);
    for (double sign : new double[] {1, -1}) {
      for (int i = 0; i < 200; i++) {
        uniform.predict(1, 1, 0, 1);
        uniform.follow(5 * sign, 0, 1, 0.01, 1);
      }
      assertEquals(sign > 0 ? 1 : -3, uniform.depth());
    }
  }

  @Test
  void aStateThatCannotBeIsNotHealthy() {
    for (int at = 0; at < UniformLight.STATE_NUMBERS; at++) {
      for (double value : new double[] {Double.NaN, Double.POSITIVE_INFINITY, -1}) {
        double[] saved = new double[UniformLight.STATE_NUMBERS];
        saved[at] = value;
        UniformLight uniform = new UniformLight(LEVEL);
        uniform.read(WrittenState.reread(8 * saved.length, bytes -> bytes.putAll(saved)));
        boolean variance = at == 3 || at == 7 || at == 11;
        if (value == -1 && !variance) {
          assertTrue(uniform.healthy(), "number " + at);
        } else {
          assertFalse(uniform.healthy(), "number " + at + ": " + value);
        }
      }
    }
  }
}
