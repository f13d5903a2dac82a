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
import org.solarmargin.core.state.StateBytes;

/** Three states in scalar form against the same Kalman filter in matrices of Hipparchus. */
class VeilTest {

  private static final double LEVEL = 0.04;

  @Test
  void itIsAKalmanFilter() {
    Veil veil = new Veil(LEVEL);
    RealVector x = new ArrayRealVector(3);
    RealMatrix p = new Array2DRowRealMatrix(3, 3);
    p.setEntry(0, 0, LEVEL);
    veil.stateSlope(0.5);
    p.setEntry(1, 1, 0.5);
    Random random = new Random(2);
    for (int i = 0; i < 60; i++) {
      veil.wander(0.9, 0.95, 0.5, 0.01);
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
      double log = veil.follow(residual, beside, perDepth, 0.05);
      assertEquals(-0.5 * (y * y / variance + Math.log(variance)), log, 1e-9);
      assertEquals(x.getEntry(0), veil.offset(), 1e-9);
      assertEquals(x.getEntry(1), veil.slope(), 1e-9);
      assertEquals(x.getEntry(2), veil.depth(), 1e-9);
    }
    assertTrue(veil.healthy());
    StateBytes bytes = new StateBytes(8 * Veil.STATE_NUMBERS + StateBytes.TAIL);
    byte[] room = new byte[8 * Veil.STATE_NUMBERS + StateBytes.TAIL];
    bytes.startWriting(room, 0);
    veil.write(bytes);
    bytes.finishWriting();
    bytes.startReading(room, 0);
    Veil other = new Veil(LEVEL);
    other.read(bytes);
    assertEquals(veil.depth(), other.depth());
    assertEquals(veil.follow(0.1, 1, 1, 0.05), other.follow(0.1, 1, 1, 0.05));
    veil.reset();
    assertEquals(0, veil.offset());
    assertEquals(0, veil.slope());
    assertEquals(0, veil.depth());
    assertEquals(new Veil(LEVEL).follow(0.1, 1, 1, 0.05), veil.follow(0.1, 1, 1, 0.05));
  }

  @Test
  void theDepthStaysBetweenItsBounds() {
    Veil veil = new Veil(LEVEL);
    for (double sign : new double[] {1, -1}) {
      for (int i = 0; i < 200; i++) {
        veil.wander(1, 1, 0, 1);
        veil.follow(5 * sign, 0, 1, 0.01);
      }
      assertEquals(sign > 0 ? 1 : -3, veil.depth());
    }
  }

  @Test
  void aStateThatCannotBeIsNotHealthy() {
    for (int at = 0; at < Veil.STATE_NUMBERS; at++) {
      for (double value : new double[] {Double.NaN, Double.POSITIVE_INFINITY, -1}) {
        StateBytes bytes = new StateBytes(8 * Veil.STATE_NUMBERS + StateBytes.TAIL);
        byte[] room = new byte[8 * Veil.STATE_NUMBERS + StateBytes.TAIL];
        bytes.startWriting(room, 0);
        for (int i = 0; i < Veil.STATE_NUMBERS; i++) {
          bytes.put(i == at ? value : 0);
        }
        bytes.finishWriting();
        bytes.startReading(room, 0);
        Veil veil = new Veil(LEVEL);
        veil.read(bytes);
        boolean variance = at == 3 || at == 7 || at == 11;
        if (value == -1 && !variance) {
          assertTrue(veil.healthy(), "number " + at);
        } else {
          assertFalse(veil.healthy(), "number " + at + ": " + value);
        }
      }
    }
  }
}
