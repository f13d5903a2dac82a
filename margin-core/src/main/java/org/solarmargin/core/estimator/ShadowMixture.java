package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.ShadowPeaks.COUNTS;
import static org.solarmargin.core.estimator.ShadowPeaks.DEPTHS;
import static org.solarmargin.core.estimator.ShadowPeaks.SHADOWS;

import java.util.Arrays;
import org.solarmargin.core.state.StateBytes;

/**
 * Probabilities of an unchanged light, of a veil over all cells and of shadows on a few, with the
 * slow error of the voltage under each of them. Shadows come, deepen and go as a Markov chain, at
 * rates such that they are there for a stated share of time; where hypotheses flow together, so do
 * the means of their errors.
 */
final class ShadowMixture {

  /** The hypothesis that nothing has changed has the place after the shadows. */
  static final int CLEAR = SHADOWS;

  /** Length of a written state. */
  static final int STATE_BYTES = 3 * (SHADOWS + 1) * Float.BYTES + 2 * Double.BYTES;

  /** How long a shadow or the lack of one lasts, s. */
  private static final double LASTING_SECONDS = 30;

  /** How long a veil or a clear sky lasts, s. */
  private static final double VEIL_SECONDS = 10;

  /** How long it takes to come by one step of depth, s. */
  private static final double DEEPENING_SECONDS = 3;

  private static final double LEAST_WEIGHT = 1e-12;

  private final double share;

  /** What keeps a shadow possible; where none ever is, none. */
  private final double leastWeight;

  private final float[] weights = new float[SHADOWS + 1];
  private final float[] offsets = new float[SHADOWS + 1];
  private final float[] slopes = new float[SHADOWS + 1];
  private double veilWeight;
  private double shadowWeight;

  /**
   * Clear or veiled, to equal parts.
   *
   * @param share of time that shadows are there, 0 to 1
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
    veilWeight = 0.5;
    shadowWeight = 0;
  }

  /** Probability of a hypothesis. */
  double weight(int hypothesis) {
    return weights[hypothesis];
  }

  /** Probability of any shadow. */
  double shadowWeight() {
    return shadowWeight;
  }

  /** Error of the voltage to be expected so far beside the middle current, V. */
  double expected(int hypothesis, double beside) {
    return offsets[hypothesis] + slopes[hypothesis] * beside;
  }

  /** Errors decay, shadows come, deepen and go. */
  void wander(double seconds, double keepOffset, double keepSlope, Veil veil) {
    // weighted means mix by sums alone
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
    comeAndGo(seconds, veil);
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

  private void comeAndGo(double seconds, Veil veil) {
    double coming = share * Math.min(seconds / LASTING_SECONDS, 0.5);
    double staying = 1 - (1 - share) * Math.min(seconds / LASTING_SECONDS, 0.5);
    double changing = Math.min(seconds / VEIL_SECONDS, 0.5);
    double fromVeil = veilWeight;
    double fromClear = weights[CLEAR];
    // what comes has its error from where it was
    double comes = fromVeil + fromClear;
    double comesOffset = fromVeil * veil.offset() + offsets[CLEAR];
    double comesSlope = fromVeil * veil.slope() + slopes[CLEAR];
    keep(CLEAR, 1 - coming - changing);
    give(CLEAR, changing, fromVeil, fromVeil * veil.offset(), fromVeil * veil.slope());
    for (int first = 0; first < SHADOWS; first += DEPTHS) {
      for (int depth = 0; depth < DEPTHS; depth++) {
        int j = first + depth;
        give(CLEAR, 1 - staying, weights[j], offsets[j], slopes[j]);
        keep(j, staying);
        // most shadows begin shallow
        double part = coming * (0.3 / DEPTHS + (depth < 2 ? 0.35 : 0)) / COUNTS;
        give(j, part, comes, comesOffset, comesSlope);
      }
    }
    veilWeight += changing * fromClear - (coming + changing) * fromVeil;
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
   * Corrects by a reading. The errors of all hypotheses but the veil have one covariance, hence one
   * variance of the innovation and one gain.
   *
   * @param innovations of each hypothesis, V
   * @param variance of them, V squared
   * @param offsetGain of the errors' offsets
   * @param slopeGain of their slopes
   * @param veilLog logarithm of the veil's likelihood
   */
  void weigh(
      float[] innovations, double variance, double offsetGain, double slopeGain, double veilLog) {
    double least = Double.POSITIVE_INFINITY;
    for (int j = 0; j <= SHADOWS; j++) {
      double y = innovations[j];
      least = Math.min(least, y * y);
    }
    double best = Math.max(veilLog, logLikelihood(least, variance));
    double base = logLikelihood(0, variance) - best;
    double half = -0.5 / variance;
    veilWeight *= Math.exp(veilLog - best);
    double total = veilWeight;
    for (int j = 0; j <= SHADOWS; j++) {
      double y = innovations[j];
      weights[j] = (float) (weights[j] * Math.exp(base + half * y * y));
      offsets[j] += (float) (offsetGain * y);
      slopes[j] += (float) (slopeGain * y);
      total += weights[j];
    }
    double shadows = 0;
    for (int j = 0; j <= SHADOWS; j++) {
      weights[j] = (float) Math.max(weights[j] / total, j < SHADOWS ? leastWeight : LEAST_WEIGHT);
      shadows += j < SHADOWS ? weights[j] : 0;
    }
    veilWeight = Math.max(veilWeight / total, LEAST_WEIGHT);
    shadowWeight = Math.min(shadows, 1);
  }

  /** Of an innovation, but for a constant. */
  static double logLikelihood(double innovationSquared, double variance) {
    return -0.5 * (innovationSquared / variance + Math.log(variance));
  }

  void write(StateBytes out) {
    out.putAll(weights);
    out.putAll(offsets);
    out.putAll(slopes);
    out.put(veilWeight);
    out.put(shadowWeight);
  }

  void read(StateBytes in) {
    in.getAll(weights);
    in.getAll(offsets);
    in.getAll(slopes);
    veilWeight = in.get();
    shadowWeight = in.get();
  }

  /** Whether weights are weights, and errors are finite. */
  boolean healthy() {
    double sum = veilWeight;
    double errors = 0;
    boolean positive = veilWeight >= 0;
    for (int j = 0; j <= SHADOWS; j++) {
      positive &= weights[j] >= 0;
      sum += weights[j];
      errors += Math.abs(offsets[j]) + Math.abs(slopes[j]);
    }
    boolean weighed = Math.abs(sum - 1) < 0.5 && shadowWeight >= 0 && shadowWeight <= 1;
    return positive && weighed && errors < Double.MAX_VALUE;
  }
}
