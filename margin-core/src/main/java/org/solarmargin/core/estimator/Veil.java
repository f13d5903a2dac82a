package org.solarmargin.core.estimator;

import java.util.Arrays;
import org.solarmargin.core.state.StateBytes;

/**
 * The hypothesis that all cells have the same light, which may wander: a Kalman filter over slow
 * offset and slope error of the voltage and the depth of the veil, logarithm of the light over the
 * reference's.
 */
final class Veil {

  private static final int OFFSET = 0;
  private static final int SLOPE = 1;
  private static final int DEPTH = 2;
  private static final int STATES = 3;

  /** How many numbers a written state has. */
  static final int STATE_NUMBERS = STATES + STATES * STATES;

  private static final double DEEPEST = -3;
  private static final double BRIGHTEST = 1;

  private final double levelVariance;
  private final double[] x = new double[STATES];
  private final double[] row = new double[STATES];
  private final double[] gain = new double[STATES];

  /** Covariance, row by row. */
  private final double[] p = new double[STATES * STATES];

  Veil(double levelVariance) {
    this.levelVariance = levelVariance;
    reset();
  }

  void reset() {
    Arrays.fill(x, 0);
    Arrays.fill(p, 0);
    p[at(OFFSET, OFFSET)] = levelVariance;
  }

  private static int at(int i, int j) {
    return STATES * i + j;
  }

  double offset() {
    return x[OFFSET];
  }

  double slope() {
    return x[SLOPE];
  }

  double depth() {
    return x[DEPTH];
  }

  /** Once the reference curve is known: what its slope may be off by, V per A, squared. */
  void stateSlope(double variance) {
    p[at(SLOPE, SLOPE)] = variance;
  }

  /** Offset and slope error decay to 0, the depth wanders. */
  void wander(double keepOffset, double keepSlope, double slopeVariance, double depthVariance) {
    x[OFFSET] *= keepOffset;
    x[SLOPE] *= keepSlope;
    for (int i = 0; i < STATES; i++) {
      p[at(OFFSET, i)] *= keepOffset;
      p[at(i, OFFSET)] *= keepOffset;
      p[at(SLOPE, i)] *= keepSlope;
      p[at(i, SLOPE)] *= keepSlope;
    }
    p[at(OFFSET, OFFSET)] += (1 - keepOffset * keepOffset) * levelVariance;
    p[at(SLOPE, SLOPE)] += (1 - keepSlope * keepSlope) * slopeVariance;
    p[at(DEPTH, DEPTH)] += depthVariance;
  }

  /**
   * Corrects by a voltage.
   *
   * @param residual what is left of it by the veil's curve at its present depth, V
   * @param beside cell current beside the middle one, A
   * @param perDepth derivative of the voltage by the depth, V
   * @param noise variance of the reading, V squared
   * @return logarithm of its likelihood, but for a constant
   */
  double follow(double residual, double beside, double perDepth, double noise) {
    double y = residual - x[OFFSET] - x[SLOPE] * beside;
    row[OFFSET] = 1;
    row[SLOPE] = beside;
    row[DEPTH] = perDepth;
    double variance = noise;
    for (int i = 0; i < STATES; i++) {
      gain[i] = 0;
      for (int j = 0; j < STATES; j++) {
        gain[i] += p[at(i, j)] * row[j];
      }
      variance += row[i] * gain[i];
    }
    for (int i = 0; i < STATES; i++) {
      x[i] += gain[i] / variance * y;
      for (int j = 0; j < STATES; j++) {
        p[at(i, j)] -= gain[i] * gain[j] / variance;
      }
    }
    x[DEPTH] = StateBounds.clamp(x[DEPTH], DEEPEST, BRIGHTEST);
    return ShadowMixture.logLikelihood(y * y, variance);
  }

  void write(StateBytes out) {
    out.putAll(x);
    out.putAll(p);
  }

  void read(StateBytes in) {
    in.getAll(x);
    in.getAll(p);
  }

  boolean healthy() {
    double all = 0;
    boolean positive = true;
    for (int i = 0; i < STATES; i++) {
      all += x[i] + p[at(i, 0)] + p[at(i, 1)] + p[at(i, 2)];
      positive &= p[at(i, i)] >= 0;
    }
    return positive && Math.abs(all) < Double.MAX_VALUE;
  }
}
