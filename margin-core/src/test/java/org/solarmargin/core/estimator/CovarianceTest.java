package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.solarmargin.core.estimator.State.ESTIMATED;
import static org.solarmargin.core.estimator.State.SIZE;
import static org.solarmargin.core.estimator.State.UNFILTERED;

import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The scalar forms compared with plain matrix products. */
class CovarianceTest {

  private static final double ROUNDING = 1e-12;
  private final Random random = new Random(5);
  private final Covariance p = new Covariance();
  private final double[][] plain = new double[SIZE][SIZE];

  CovarianceTest() {
    p.setFiltered(true);
    double[][] root = new double[SIZE][SIZE];
    for (double[] row : root) {
      for (int j = 0; j < SIZE; j++) {
        row[j] = random.nextGaussian();
      }
    }
    for (int i = 0; i < SIZE; i++) {
      for (int j = 0; j < SIZE; j++) {
        for (int k = 0; k < SIZE; k++) {
          plain[i][j] += root[i][k] * root[j][k];
        }
      }
    }
    for (int i = 0; i < SIZE; i++) {
      for (int j = i; j < SIZE; j++) {
        p.set(i, j, plain[i][j]);
      }
    }
  }

  private static double[][] times(double[][] a, double[][] b) {
    double[][] c = new double[SIZE][SIZE];
    for (int i = 0; i < SIZE; i++) {
      for (int j = 0; j < SIZE; j++) {
        for (int k = 0; k < SIZE; k++) {
          c[i][j] += a[i][k] * b[k][j];
        }
      }
    }
    return c;
  }

  private static double[][] transposed(double[][] a) {
    double[][] t = new double[SIZE][SIZE];
    for (int i = 0; i < SIZE; i++) {
      for (int j = 0; j < SIZE; j++) {
        t[i][j] = a[j][i];
      }
    }
    return t;
  }

  private void assertSame(double[][] expected) {
    for (int i = 0; i < SIZE; i++) {
      for (int j = 0; j < SIZE; j++) {
        assertEquals(expected[i][j], p.get(i, j), ROUNDING * (1 + Math.abs(expected[i][j])));
        assertEquals(p.get(i, j), p.get(j, i), "symmetric");
      }
    }
  }

  private double[] vector() {
    double[] v = new double[SIZE];
    for (int i = 0; i < SIZE; i++) {
      v[i] = random.nextGaussian();
    }
    return v;
  }

  @Test
  void transformingOneRowEqualsTheFullMatrixProduct() {
    double[] row = vector();
    double[][] f = new double[SIZE][SIZE];
    for (int i = 0; i < SIZE; i++) {
      f[i][i] = 1;
    }
    f[2] = row;
    p.transformRow(2, row);
    assertSame(times(times(f, plain), transposed(f)));
  }

  @Test
  void scalingIsADiagonalTransform() {
    double[][] f = new double[SIZE][SIZE];
    for (int i = 0; i < SIZE; i++) {
      f[i][i] = i == 4 ? 0.3 : 1;
    }
    p.scale(4, 0.3);
    assertSame(times(times(f, plain), transposed(f)));
  }

  @Test
  void varianceAndProductAreThoseOfThePlainForm() {
    double[] h = vector();
    double[] out = new double[SIZE];
    p.times(h, out);
    double sum = 0;
    for (int i = 0; i < SIZE; i++) {
      double expected = 0;
      for (int j = 0; j < SIZE; j++) {
        expected += plain[i][j] * h[j];
      }
      assertEquals(expected, out[i], ROUNDING * (1 + Math.abs(expected)));
      sum += h[i] * expected;
    }
    assertEquals(sum, p.variance(h, IntStream.range(0, SIZE).toArray()), ROUNDING * sum);
  }

  @Test
  void twoProductsInOnePassAreTwoProducts() {
    double[] a = vector();
    double[] b = vector();
    a[3] = 0;
    b[3] = 0;
    b[4] = 0;
    double[] ofA = new double[SIZE];
    double[] ofB = new double[SIZE];
    p.times(a, ofA);
    p.times(b, ofB);
    double[] outA = vector();
    double[] outB = vector();
    p.times(a, outA, b, outB);
    assertArrayEquals(ofA, outA);
    assertArrayEquals(ofB, outB);
  }

  /**
   * Joseph's form with the constants' gain at a fraction of the full gain: 0 is Schmidt's filter, 1
   * the ordinary one.
   */
  @ParameterizedTest
  @ValueSource(doubles = {0, 0.3, 1})
  void theDowndateEqualsThatOfAFractionalGain(double part) {
    double[] h = vector();
    double r = 0.7;
    double[] ph = new double[SIZE];
    p.times(h, ph);
    double s = r;
    for (int i = 0; i < SIZE; i++) {
      s += h[i] * ph[i];
    }
    double[][] left = new double[SIZE][SIZE];
    double[][] noise = new double[SIZE][SIZE];
    for (int i = 0; i < SIZE; i++) {
      left[i][i] = 1;
    }
    double[] gain = new double[SIZE];
    for (int i = 0; i < SIZE; i++) {
      boolean constant = i >= ESTIMATED && i < UNFILTERED;
      gain[i] = (constant ? part : 1) * ph[i] / s;
    }
    for (int i = 0; i < SIZE; i++) {
      for (int j = 0; j < SIZE; j++) {
        left[i][j] -= gain[i] * h[j];
        noise[i][j] = gain[i] * r * gain[j];
      }
    }
    double[][] expected = times(times(left, plain), transposed(left));
    for (int i = 0; i < SIZE; i++) {
      for (int j = 0; j < SIZE; j++) {
        expected[i][j] += noise[i][j];
      }
    }
    p.downdate(ph, s, 1 - (1 - part) * (1 - part));
    assertSame(expected);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 0.51})
  void twoDowndatesInOnePassAreTwoDowndates(double share) {
    double[] a = vector();
    double[] b = vector();
    Covariance one = new Covariance();
    one.setFiltered(true);
    for (int i = 0; i < SIZE; i++) {
      for (int j = i; j < SIZE; j++) {
        one.set(i, j, plain[i][j]);
      }
    }
    one.downdate(a, 3, share);
    one.downdate(b, 5, share);
    p.downdate(a, 3, b, 5, share);
    for (int i = 0; i < UNFILTERED; i++) {
      for (int j = 0; j < UNFILTERED; j++) {
        assertEquals(one.get(i, j), p.get(i, j), ROUNDING * Math.abs(one.get(i, j)) + ROUNDING);
      }
    }
  }
}
