package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.ESTIMATED;
import static org.solarmargin.core.estimator.State.SIZE;

import java.util.Arrays;

/**
 * A symmetric matrix over the states, stored whole, updated in place.
 *
 * <p>The scalar form is written out because this is the hot path; {@code CovarianceTest} holds it
 * against plain matrix products.
 */
final class Covariance {

  private final double[] p = new double[SIZE * SIZE];

  double get(int i, int j) {
    return p[i * SIZE + j];
  }

  void set(int i, int j, double value) {
    p[i * SIZE + j] = value;
    p[j * SIZE + i] = value;
  }

  void addVariance(int i, double variance) {
    p[i * SIZE + i] += variance;
  }

  void clear() {
    Arrays.fill(p, 0);
  }

  /** Scales one state: its row and column by the factor, its variance by the square. */
  void scale(int i, double factor) {
    for (int j = 0; j < SIZE; j++) {
      p[i * SIZE + j] *= factor;
      p[j * SIZE + i] *= factor;
    }
  }

  /** P becomes F P F', where F is the identity but for row {@code target}, which is {@code f}. */
  void transformRow(int target, double[] f) {
    int base = target * SIZE;
    for (int j = 0; j < SIZE; j++) {
      p[base + j] *= f[target];
    }
    for (int k = 0; k < SIZE; k++) {
      double fk = f[k];
      if (fk != 0 && k != target) {
        int from = k * SIZE;
        for (int j = 0; j < SIZE; j++) {
          p[base + j] += fk * p[from + j];
        }
      }
    }
    double own = 0;
    for (int k = 0; k < SIZE; k++) {
      own += f[k] * p[base + k];
    }
    for (int j = 0; j < SIZE; j++) {
      p[j * SIZE + target] = p[base + j];
    }
    p[base + target] = own;
  }

  /** outA becomes P a, outB becomes P b, in one pass. */
  void times(double[] a, double[] outA, double[] b, double[] outB) {
    Arrays.fill(outA, 0);
    Arrays.fill(outB, 0);
    for (int j = 0; j < SIZE; j++) {
      double aj = a[j];
      double bj = b[j];
      if (aj == 0 && bj == 0) {
        continue;
      }
      int base = j * SIZE;
      for (int i = 0; i < SIZE; i++) {
        double value = p[base + i];
        outA[i] += value * aj;
        outB[i] += value * bj;
      }
    }
  }

  /**
   * P becomes P - ph ph' / s but among the considered states, which keep theirs: the Schmidt form
   * with the gain of the considered states at zero.
   */
  void downdate(double[] ph, double s) {
    double inverse = 1 / s;
    for (int i = 0; i < ESTIMATED; i++) {
      double gain = ph[i] * inverse;
      int base = i * SIZE;
      for (int j = i; j < SIZE; j++) {
        double value = p[base + j] - gain * ph[j];
        p[base + j] = value;
        p[j * SIZE + i] = value;
      }
    }
  }

  /** Two downdates in one pass; the second's vector must already be free of the first. */
  void downdate(double[] a, double sa, double[] b, double sb) {
    double inverseA = 1 / sa;
    double inverseB = 1 / sb;
    for (int i = 0; i < ESTIMATED; i++) {
      double gainA = a[i] * inverseA;
      double gainB = b[i] * inverseB;
      int base = i * SIZE;
      for (int j = i; j < SIZE; j++) {
        double value = p[base + j] - gainA * a[j] - gainB * b[j];
        p[base + j] = value;
        p[j * SIZE + i] = value;
      }
    }
  }

  /** Variance of the linear form h'x. */
  double variance(double[] h) {
    double sum = 0;
    for (int i = 0; i < SIZE; i++) {
      double hi = h[i];
      if (hi != 0) {
        int base = i * SIZE;
        double inner = 0;
        for (int j = 0; j < SIZE; j++) {
          inner += p[base + j] * h[j];
        }
        sum += hi * inner;
      }
    }
    return Math.max(sum, 0);
  }
}
