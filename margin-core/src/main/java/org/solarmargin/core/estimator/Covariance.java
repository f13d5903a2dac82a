package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.ESTIMATED;
import static org.solarmargin.core.estimator.State.SIZE;
import static org.solarmargin.core.estimator.State.UNFILTERED;

import java.util.Arrays;

/**
 * A symmetric matrix over the states, stored whole, updated in place.
 *
 * <p>The scalar form is written out because this is the hot path; {@code CovarianceTest} holds it
 * against plain matrix products.
 */
final class Covariance {

  private final double[] p = new double[SIZE * SIZE];

  /** States in use, from the first on. */
  private int active = UNFILTERED;

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

  /** Takes the states of the sensors' filters into use, or leaves them out. */
  void setFiltered(boolean filtered) {
    active = filtered ? SIZE : UNFILTERED;
  }

  /** Scales one state: its row and column by the factor, its variance by the square. */
  void scale(int i, double factor) {
    for (int j = 0; j < active; j++) {
      p[i * SIZE + j] *= factor;
      p[j * SIZE + i] *= factor;
    }
  }

  /** P becomes F P F', where F is the identity but for row {@code target}, which is {@code f}. */
  void transformRow(int target, double[] f) {
    int base = target * SIZE;
    for (int j = 0; j < active; j++) {
      p[base + j] *= f[target];
    }
    for (int k = 0; k < active; k++) {
      double fk = f[k];
      if (fk != 0 && k != target) {
        int from = k * SIZE;
        for (int j = 0; j < active; j++) {
          p[base + j] += fk * p[from + j];
        }
      }
    }
    double own = 0;
    for (int k = 0; k < active; k++) {
      own += f[k] * p[base + k];
    }
    for (int j = 0; j < active; j++) {
      p[j * SIZE + target] = p[base + j];
    }
    p[base + target] = own;
  }

  /** outA becomes P a, outB becomes P b, in one pass. */
  void times(double[] a, double[] outA, double[] b, double[] outB) {
    Arrays.fill(outA, 0, active, 0);
    Arrays.fill(outB, 0, active, 0);
    for (int j = 0; j < active; j++) {
      double aj = a[j];
      double bj = b[j];
      if (aj == 0 && bj == 0) {
        continue;
      }
      int base = j * SIZE;
      for (int i = 0; i < active; i++) {
        double value = p[base + i];
        outA[i] += value * aj;
        outB[i] += value * bj;
      }
    }
  }

  /**
   * P becomes P - ph ph' / s; among the constants only {@code share} of it is taken away: 0 is the
   * form of Schmidt (1966) with their gain at zero, {@code 1 - (1 - b)^2} that of Brink (2017) with
   * their gain at the share b of the full one.
   */
  void downdate(double[] ph, double s, double share) {
    double inverse = 1 / s;
    for (int i = 0; i < active; i++) {
      double gain = ph[i] * inverse;
      int base = i * SIZE;
      for (int j = i; j < active; j++) {
        double value = p[base + j] - part(i, j, share) * gain * ph[j];
        p[base + j] = value;
        p[j * SIZE + i] = value;
      }
    }
  }

  /**
   * Two downdates in one pass; the second's vector must already be free of the first. The states of
   * the sensors' filters are left alone: they are set anew after each reading.
   */
  void downdate(double[] a, double sa, double[] b, double sb, double share) {
    double inverseA = 1 / sa;
    double inverseB = 1 / sb;
    int rows = share > 0 ? UNFILTERED : ESTIMATED;
    for (int i = 0; i < rows; i++) {
      double part = i < ESTIMATED ? 1 : share;
      double gainA = part * a[i] * inverseA;
      double gainB = part * b[i] * inverseB;
      int base = i * SIZE;
      for (int j = i; j < UNFILTERED; j++) {
        double value = p[base + j] - gainA * a[j] - gainB * b[j];
        p[base + j] = value;
        p[j * SIZE + i] = value;
      }
    }
  }

  /** Share of the full downdate between two states: between two constants it is {@code share}. */
  private static double part(int i, int j, double share) {
    boolean constants = i >= ESTIMATED && i < UNFILTERED && j >= ESTIMATED && j < UNFILTERED;
    return constants ? share : 1;
  }

  /** Variance of a linear form: {@code h} holds its part for each of {@code states}. */
  double variance(double[] h, int[] states) {
    double sum = 0;
    for (int i = 0; i < h.length; i++) {
      int base = states[i] * SIZE;
      double inner = 0;
      for (int j = 0; j < h.length; j++) {
        inner += p[base + states[j]] * h[j];
      }
      sum += h[i] * inner;
    }
    return Math.max(sum, 0);
  }
}
