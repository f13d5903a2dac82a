package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.ESTIMATED;
import static org.solarmargin.core.estimator.State.SIZE;
import static org.solarmargin.core.estimator.State.UNFILTERED;

import java.util.Arrays;

/**
 * A symmetric matrix over the states, stored in full and updated in place.
 *
 * <p>The loops are written out because this is the hot path; {@code CovarianceTest} compares them
 * with plain matrix products.
 */
final class Covariance {

  private final double[] p;

  /** Scratch space for the caller's next row or linear form. */
  private final double[] form = new double[SIZE];

  /** Scratch space within {@link #transformRow}, and for a second form of the caller. */
  private final double[] row = new double[SIZE];

  /** Number of states that the matrix can hold. */
  private final int size;

  /** Number of states in use, counted from the first. */
  private int active = UNFILTERED;

  /** Creates a matrix over all states. */
  Covariance() {
    this(true);
  }

  /**
   * Creates a matrix of zeros.
   *
   * @param filters whether it includes the states of the sensors' filters; without them, their
   *     entries are always 0
   */
  Covariance(boolean filters) {
    size = filters ? SIZE : UNFILTERED;
    p = new double[size * size];
  }

  /** Scratch space for one row or linear form at a time. */
  double[] form() {
    return form;
  }

  /** Scratch space for a second form besides {@link #form}, until the next transform. */
  double[] secondForm() {
    return row;
  }

  double get(int i, int j) {
    return i < size && j < size ? p[i * size + j] : 0;
  }

  void set(int i, int j, double value) {
    if (i < size && j < size) {
      p[i * size + j] = value;
      p[j * size + i] = value;
    }
  }

  void addVariance(int i, double variance) {
    p[i * size + i] += variance;
  }

  void clear() {
    Arrays.fill(p, 0);
  }

  /** Includes the states of the sensors' filters, or excludes them. */
  void setFiltered(boolean filtered) {
    active = filtered ? size : UNFILTERED;
  }

  /** Whether the states of the sensors' filters are included. */
  boolean filtered() {
    return active > UNFILTERED;
  }

  /** Scales one state: its row and column by the factor, its variance by the factor's square. */
  void scale(int i, double factor) {
    int base = i * size;
    for (int j = 0; j < active; j++) {
      double value = p[base + j] * factor;
      p[base + j] = value;
      p[j * size + i] = value;
    }
    p[base + i] *= factor;
  }

  /**
   * Sets P to F P F', where F is the identity except for row {@code target}, which is {@code f}.
   */
  void transformRow(int target, double[] f) {
    // a separate row does not alias P, so that the loops over it vectorise
    double[] moved = row;
    times(f, moved);
    double own = 0;
    for (int k = 0; k < active; k++) {
      own += f[k] * moved[k];
    }
    moved[target] = own;
    int base = target * size;
    for (int j = 0; j < active; j++) {
      p[base + j] = moved[j];
      p[j * size + target] = moved[j];
    }
  }

  /** Sets {@code out} to P a; {@code out} must not be the same array as {@code a}. */
  void times(double[] a, double[] out) {
    Arrays.fill(out, 0, active, 0);
    for (int j = 0; j < active; j++) {
      double aj = a[j];
      if (aj != 0) {
        int base = j * size;
        for (int i = 0; i < active; i++) {
          out[i] += p[base + i] * aj;
        }
      }
    }
  }

  /** Sets {@code outA} to P a and {@code outB} to P b; none may be the same array as another. */
  void times(double[] a, double[] outA, double[] b, double[] outB) {
    Arrays.fill(outA, 0, active, 0);
    Arrays.fill(outB, 0, active, 0);
    for (int j = 0; j < active; j++) {
      double aj = a[j];
      double bj = b[j];
      if (aj != 0 || bj != 0) {
        int base = j * size;
        for (int i = 0; i < active; i++) {
          double value = p[base + i];
          outA[i] += value * aj;
          outB[i] += value * bj;
        }
      }
    }
  }

  /**
   * Sets P to P - ph ph' / s; between two constants only the {@code share} of it is subtracted: 0
   * is the form of Schmidt (1966), in which their gain is zero, {@code 1 - (1 - b)^2} that of Brink
   * (2017), in which their gain is the share b of the full gain.
   */
  void downdate(double[] ph, double s, double share) {
    double inverse = 1 / s;
    for (int i = 0; i < active; i++) {
      double gain = ph[i] * inverse;
      int base = i * size;
      for (int j = i; j < active; j++) {
        double value = p[base + j] - part(i, j, share) * gain * ph[j];
        p[base + j] = value;
        p[j * size + i] = value;
      }
    }
  }

  /**
   * Two downdates in one pass; the second vector must already be orthogonalised to the first. The
   * states of the sensors' filters are not changed: they are set after each reading.
   */
  void downdate(double[] a, double sa, double[] b, double sb, double share) {
    double inverseA = 1 / sa;
    double inverseB = 1 / sb;
    int rows = share > 0 ? UNFILTERED : ESTIMATED;
    for (int i = 0; i < rows; i++) {
      double part = i < ESTIMATED ? 1 : share;
      double gainA = part * a[i] * inverseA;
      double gainB = part * b[i] * inverseB;
      int base = i * size;
      for (int j = i; j < UNFILTERED; j++) {
        double value = p[base + j] - gainA * a[j] - gainB * b[j];
        p[base + j] = value;
        p[j * size + i] = value;
      }
    }
  }

  /** Share of the full downdate between two states: {@code share} between two constants, else 1. */
  private static double part(int i, int j, double share) {
    boolean constants = i >= ESTIMATED && i < UNFILTERED && j >= ESTIMATED && j < UNFILTERED;
    return constants ? share : 1;
  }

  /** Variance of a linear form whose coefficients {@code h} belong to {@code states}. */
  double variance(double[] h, int[] states) {
    double sum = 0;
    for (int i = 0; i < h.length; i++) {
      int base = states[i] * size;
      double inner = 0;
      for (int j = 0; j < h.length; j++) {
        inner += p[base + states[j]] * h[j];
      }
      sum += h[i] * inner;
    }
    return Math.max(sum, 0);
  }
}
