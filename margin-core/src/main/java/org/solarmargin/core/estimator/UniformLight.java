package org.solarmargin.core.estimator;

import java.util.Arrays;
import org.solarmargin.core.state.StateBytes;

/**
 * The hypothesis of a uniform change of the light on all cells: a Kalman filter over the slow
 * offset and slope error of the voltage and the depth of the change, which is the logarithm of the
 * ratio of the light to the reference light and follows a random walk.
 */
final class UniformLight {

  private static final int OFFSET = 0;
  private static final int SLOPE = 1;
  private static final int DEPTH = 2;
  private static final int STATES = 3;

  /** Number of values in a saved state. */
  static final int STATE_NUMBERS = STATES + STATES * STATES;

  /** Innovation, in sigmas, above which the light is taken to have an edge. */
  private static final double EDGE_SIGMAS = 3;

  /** Change of the depth at an edge, 1 sigma. */
  private static final double EDGE_DEPTH = 0.1;

  /** Logarithm of the probability of an edge between two readings: 1.1 %. */
  private static final double EDGE_LOG = -4.5;

  private static final double DEEPEST = -3;
  private static final double BRIGHTEST = 1;

  private final double levelVariance;
  private final double[] x = new double[STATES];
  private final double[] gain = new double[STATES];

  /** Covariance, row by row. */
  private final double[] p = new double[STATES * STATES];

  UniformLight(double levelVariance) {
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

  /** Sets the variance of the slope error once the reference curve is known, (V/A) squared. */
  void stateSlope(double variance) {
    p[at(SLOPE, SLOPE)] = variance;
  }

  /** Time update: offset and slope error decay to 0, the depth follows a random walk. */
  void predict(double keepOffset, double keepSlope, double slopeVariance, double depthVariance) {
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
   * Measurement update by a voltage.
   *
   * @param residual reading minus the voltage of the curve at the present depth, V
   * @param beside cell current minus the middle one, A
   * @param perDepth derivative of the voltage with respect to the depth, V
   * @param noise variance of the reading, V squared
   * @param information share of an independent reading that this one is, more than 0 to 1
   * @return log-likelihood of the reading, up to a constant
   */
  double follow(double residual, double beside, double perDepth, double noise, double information) {
    double y = residual - x[OFFSET] - x[SLOPE] * beside;
    double variance = project(beside, perDepth) + noise;
    boolean edge = y * y > EDGE_SIGMAS * EDGE_SIGMAS * variance;
    if (edge) {
      p[at(DEPTH, DEPTH)] += EDGE_DEPTH * EDGE_DEPTH;
      variance = project(beside, perDepth) + noise;
    }
    double limited = VoltageResidual.limited(y, variance);
    for (int i = 0; i < STATES; i++) {
      x[i] += gain[i] / variance * (i == DEPTH ? y : limited);
      for (int j = 0; j < STATES; j++) {
        p[at(i, j)] -= gain[i] * gain[j] / variance;
      }
    }
    x[DEPTH] = StateBounds.clamp(x[DEPTH], DEEPEST, BRIGHTEST);
    return VoltageResidual.logLikelihood(y, variance, information) + (edge ? EDGE_LOG : 0);
  }

  /** Computes the gains times the innovation variance; returns the states' part of the latter. */
  private double project(double beside, double perDepth) {
    for (int i = 0; i < STATES; i++) {
      gain[i] = p[at(i, OFFSET)] + beside * p[at(i, SLOPE)] + perDepth * p[at(i, DEPTH)];
    }
    return gain[OFFSET] + beside * gain[SLOPE] + perDepth * gain[DEPTH];
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
