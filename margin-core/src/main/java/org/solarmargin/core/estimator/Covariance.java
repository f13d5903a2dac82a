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

  private final double[] p;

  /** Room for the caller's next row or linear form, and for a row under way. */
  private final double[] form = new double[SIZE];

  private final double[] row = new double[SIZE];

  /** States that there is room for. */
  private final int size;

  /** States in use, from the first on. */
  private int active = UNFILTERED;

  /** Of all states. */
  Covariance() {
    this(true);
  }

  /**
   * Nothing in it.
   *
   * @param filters whether there is room for the states of the sensors' filters; without, they are
   *     0 and stay so
   */
  Covariance(boolean filters) {
    size = filters ? SIZE : UNFILTERED;
    p = new double[size * size];
  }

  /** Room for a row to transform by or a form to multiply with; one at a time. */
  double[] form() {
    return form;
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

  /** Takes the states of the sensors' filters into use, or leaves them out. */
  void setFiltered(boolean filtered) {
    active = filtered ? size : UNFILTERED;
  }

  /** Scales one state: its row and column by the factor, its variance by the square. */
  void scale(int i, double factor) {
    int base = i * size;
    for (int j = 0; j < active; j++) {
      double value = p[base + j] * factor;
      p[base + j] = value;
      p[j * size + i] = value;
    }
    p[base + i] *= factor;
  }

  /** P becomes F P F', where F is the identity but for row {@code target}, which is {@code f}. */
  void transformRow(int target, double[] f) {
    // a row of its own shares no memory with P, so that the loops over it vectorise
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

  /** {@code out} becomes P a; {@code out} is another array than {@code a}. */
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

  /**
   * P becomes P - ph ph' / s; among the constants only {@code share} of it is taken away: 0 is the
   * form of Schmidt (1966) with their gain at zero, {@code 1 - (1 - b)^2} that of Brink (2017) with
   * their gain at the share b of the full one.
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
      int base = i * size;
      for (int j = i; j < UNFILTERED; j++) {
        double value = p[base + j] - gainA * a[j] - gainB * b[j];
        p[base + j] = value;
        p[j * size + i] = value;
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
