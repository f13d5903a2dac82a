package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.ShadowPeaks.COUNTS;
import static org.solarmargin.core.estimator.ShadowPeaks.DEPTHS;
import static org.solarmargin.core.estimator.ShadowPeaks.SHADOWS;

import java.util.Arrays;
import org.solarmargin.core.state.StateBytes;

/**
 * Probabilities of three kinds of hypotheses, unchanged light, a uniform change of the light on all
 * cells, and shadows on a few cells, with the mean of the slow voltage error under each of them.
 * Shadows appear, deepen and disappear as a Markov chain whose rates give them a stated share of
 * the time; when probability passes from one hypothesis to another, the means of the errors are
 * mixed accordingly. The time constants are engineering judgement, not tuned.
 */
final class ShadowMixture {

  /** Index of the hypothesis of unchanged light, after the shadows. */
  static final int CLEAR = SHADOWS;

  /** Length of a saved state, bytes. */
  static final int STATE_BYTES = 3 * (SHADOWS + 1) * Float.BYTES + 2 * Double.BYTES;

  /** Time scale on which shadows appear and disappear, s. */
  private static final double LASTING_SECONDS = 30;

  /** Time scale of the change between unchanged and uniformly changed light, s. */
  private static final double UNIFORM_SECONDS = 10;

  /** Time in which a shadow deepens by one step, s. */
  private static final double DEEPENING_SECONDS = 3;

  private static final double LEAST_WEIGHT = 1e-12;

  /** Log of a likelihood ratio below which a hypothesis keeps the least weight only. */
  private static final double NEGLIGIBLE_LOG = -60;

  private final double share;

  /** Lower limit of a shadow's probability, so that it stays possible; 0 if shadows never occur. */
  private final double leastWeight;

  private final float[] weights = new float[SHADOWS + 1];
  private final float[] offsets = new float[SHADOWS + 1];
  private final float[] slopes = new float[SHADOWS + 1];
  private double uniformWeight;
  private double shadowWeight;

  /**
   * Creates a mixture of unchanged and uniformly changed light with equal probability.
   *
   * @param share share of the time in which shadows are present, 0 to 1
   */
  ShadowMixture(double share) {
    this.share = share;
    leastWeight = share > 0 ? LEAST_WEIGHT : 0;
    reset();
  }

  void reset() {
    Arrays.fill(weights, 0);
    Arrays.fill(offsets, 0);
    Arrays.fill(slopes, 0);
    weights[CLEAR] = 0.5f;
    uniformWeight = 0.5;
    shadowWeight = 0;
  }

  /** Probability of a hypothesis. */
  double weight(int hypothesis) {
    return weights[hypothesis];
  }

  /** Probability of a uniform change. */
  double uniformWeight() {
    return uniformWeight;
  }

  /** Probability of any shadow. */
  double shadowWeight() {
    return shadowWeight;
  }

  /** Expected error of the voltage at a given distance from the middle current, V. */
  double expected(int hypothesis, double beside) {
    return offsets[hypothesis] + slopes[hypothesis] * beside;
  }

  /** Time update: errors decay; shadows appear, deepen and disappear. */
  void predict(double seconds, double keepOffset, double keepSlope, UniformLight uniform) {
    // means multiplied by their weights are mixed by addition
    for (int j = 0; j <= SHADOWS; j++) {
      offsets[j] = (float) (offsets[j] * keepOffset * weights[j]);
      slopes[j] = (float) (slopes[j] * keepSlope * weights[j]);
    }
    double deepening = Math.min(seconds / DEEPENING_SECONDS, 0.3);
    for (int first = 0; first < SHADOWS; first += DEPTHS) {
      for (int j = first + 1; j < first + DEPTHS; j++) {
        exchange(weights, j, deepening);
        exchange(offsets, j, deepening);
        exchange(slopes, j, deepening);
      }
    }
    transition(seconds, uniform);
    for (int j = 0; j <= SHADOWS; j++) {
      double perWeight = weights[j] > 0 ? 1.0 / weights[j] : 0;
      offsets[j] = (float) (offsets[j] * perWeight);
      slopes[j] = (float) (slopes[j] * perWeight);
    }
  }

  private static void exchange(float[] values, int j, double part) {
    float net = (float) (part * (values[j - 1] - values[j]));
    values[j - 1] -= net;
    values[j] += net;
  }

  private void transition(double seconds, UniformLight uniform) {
    double coming = share * Math.min(seconds / LASTING_SECONDS, 0.5);
    double staying = 1 - (1 - share) * Math.min(seconds / LASTING_SECONDS, 0.5);
    double changing = Math.min(seconds / UNIFORM_SECONDS, 0.5);
    double fromUniform = uniformWeight;
    double fromClear = weights[CLEAR];
    // a new shadow inherits the error of the hypotheses from which it comes
    double comes = fromUniform + fromClear;
    double comesOffset = fromUniform * uniform.offset() + offsets[CLEAR];
    double comesSlope = fromUniform * uniform.slope() + slopes[CLEAR];
    keep(CLEAR, 1 - coming - changing);
    give(
        CLEAR,
        changing,
        fromUniform,
        fromUniform * uniform.offset(),
        fromUniform * uniform.slope());
    for (int first = 0; first < SHADOWS; first += DEPTHS) {
      for (int depth = 0; depth < DEPTHS; depth++) {
        int j = first + depth;
        give(CLEAR, 1 - staying, weights[j], offsets[j], slopes[j]);
        keep(j, staying);
        // most shadows are shallow at first
        double part = coming * (0.3 / DEPTHS + (depth < 2 ? 0.35 : 0)) / COUNTS;
        give(j, part, comes, comesOffset, comesSlope);
      }
    }
    uniformWeight += changing * fromClear - (coming + changing) * fromUniform;
  }

  private void keep(int j, double part) {
    weights[j] = (float) (weights[j] * part);
    offsets[j] = (float) (offsets[j] * part);
    slopes[j] = (float) (slopes[j] * part);
  }

  private void give(int to, double part, double weight, double offset, double slope) {
    weights[to] += (float) (part * weight);
    offsets[to] += (float) (part * offset);
    slopes[to] += (float) (part * slope);
  }

  /**
   * Measurement update. The errors of all hypotheses except the uniform change share one
   * covariance; the innovation variance, and with it the gain, differ.
   *
   * @param reading the reading, with its slow error set
   * @param toOffset covariance of the residual with the errors' offset, V squared
   * @param toSlope covariance of the residual with the errors' slope, V squared per ampere
   * @param uniformLog log-likelihood of the uniform change
   * @param logs scratch array, one longer than there are shadows
   */
  void update(
      VoltageResidual reading, double toOffset, double toSlope, double uniformLog, float[] logs) {
    double best = uniformLog;
    for (int j = 0; j <= SHADOWS; j++) {
      double innovation = reading.residual(j) - expected(j, reading.beside());
      double variance = reading.variance(j);
      double log = reading.logLikelihood(innovation, variance);
      logs[j] = (float) log;
      best = log > best ? log : best;
      double perVariance = VoltageResidual.limited(innovation, variance) / variance;
      offsets[j] += (float) (toOffset * perVariance);
      slopes[j] += (float) (toSlope * perVariance);
    }
    uniformWeight *= Math.exp(uniformLog - best);
    double total = uniformWeight;
    for (int j = 0; j <= SHADOWS; j++) {
      double log = logs[j] - best;
      weights[j] = log > NEGLIGIBLE_LOG ? (float) (weights[j] * Math.exp(log)) : 0;
      total += weights[j];
    }
    double shadows = 0;
    for (int j = 0; j < SHADOWS; j++) {
      weights[j] = normalised(weights[j], total, leastWeight);
      shadows += weights[j];
    }
    weights[CLEAR] = normalised(weights[CLEAR], total, LEAST_WEIGHT);
    uniformWeight = Math.max(uniformWeight / total, LEAST_WEIGHT);
    shadowWeight = Math.min(shadows, 1);
  }

  private static float normalised(float weight, double total, double least) {
    double share = weight / total;
    return (float) (share > least ? share : least);
  }

  void write(StateBytes out) {
    out.putAll(weights);
    out.putAll(offsets);
    out.putAll(slopes);
    out.put(uniformWeight);
    out.put(shadowWeight);
  }

  void read(StateBytes in) {
    in.getAll(weights);
    in.getAll(offsets);
    in.getAll(slopes);
    uniformWeight = in.get();
    shadowWeight = in.get();
  }

  /** Whether the weights are non-negative with a sum near 1, and the errors finite. */
  boolean healthy() {
    double sum = uniformWeight;
    double errors = 0;
    boolean positive = uniformWeight >= 0;
    for (int j = 0; j <= SHADOWS; j++) {
      positive &= weights[j] >= 0;
      sum += weights[j];
      errors += Math.abs(offsets[j]) + Math.abs(slopes[j]);
    }
    boolean weighed = Math.abs(sum - 1) < 0.5 && shadowWeight >= 0 && shadowWeight <= 1;
    return positive && weighed && errors < Double.MAX_VALUE;
  }
}
