package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.ShadowPeaks.DEPTH_STEP;
import static org.solarmargin.core.estimator.ShadowPeaks.SHADOWS;

import java.util.Arrays;

/**
 * Distribution of the available power, mixed over even light and shadows, on a grid relative to the
 * median under even light.
 */
final class ShadowDistribution {

  /** Weight of the shadows below which they are neglected. */
  private static final double NEGLIGIBLE = 0.01;

  private static final double LOWEST = 0.2;
  private static final double HIGHEST = 1.2;
  private static final int STEPS = 50;
  private static final double STEP = (HIGHEST - LOWEST) / STEPS;
  private static final double PER_STEP = 1 / STEP;

  private static final double[] EDGE_LOGS = new double[STEPS + 1];

  static {
    for (int i = 0; i <= STEPS; i++) {
      EDGE_LOGS[i] = Math.log(LOWEST + i * STEP);
    }
  }

  /** Required length of the scratch array. */
  static final int NUMBERS = STEPS + 1;

  /** Probability of a shadow whose peak is at or below the grid's edge. */
  private final float[] below;

  private double shadowWeight;
  private double logSd;

  /**
   * Creates an empty distribution.
   *
   * @param scratch at least {@value #NUMBERS} long; others may use it until the next {@link #take}
   *     and after the last {@link #quantile}
   */
  ShadowDistribution(float[] scratch) {
    below = scratch;
  }

  /** Computes the distribution of the present mixture. */
  void take(ShadowMixture mixture, ShadowPeaks peaks, double median, double logSd) {
    this.logSd = logSd;
    shadowWeight = mixture.shadowWeight();
    double perMedian = (1 - 0.1 * DEPTH_STEP) / median;
    Arrays.fill(below, 0);
    for (int j = 0; j < SHADOWS; j++) {
      // the light may lie anywhere between two depths: the power is taken near the lower one
      add(mixture.weight(j), peaks.watts(j) * perMedian);
    }
    for (int i = 1; i <= STEPS; i++) {
      below[i] += below[i - 1];
    }
  }

  /** Distributes a weight linearly over the two grid cells whose centres are next to a power. */
  private void add(double weight, double power) {
    double place = StateBounds.clamp((power - LOWEST) * PER_STEP - 0.5, 0, STEPS - 1);
    int cell = (int) place;
    double second = weight * (place - cell);
    below[cell + 1] += (float) (weight - second);
    below[Math.min(cell + 2, STEPS)] += (float) second;
  }

  /**
   * Quantile of the available power relative to the median under even light.
   *
   * @param probability probability that less is available, 0 to 0.9
   * @param trust factor on the odds of shadows, more than 0; below 1 more evidence is required
   * @param even the same quantile under even light, relative to the median
   * @return at most {@code even}
   */
  double quantile(double probability, double trust, double even) {
    double clear = 1 - shadowWeight;
    double scale = trust / (clear + trust * shadowWeight);
    double odds = scale * shadowWeight;
    if (!(odds > NEGLIGIBLE)) {
      return even;
    }
    int first = 0;
    int last = STEPS;
    double atFirst = 0;
    double atLast = 1;
    while (last - first > 1) {
      int middle = (first + last) >>> 1;
      double at = (1 - odds) * normal(EDGE_LOGS[middle] / logSd) + scale * below[middle];
      if (at > probability) {
        last = middle;
        atLast = at;
      } else {
        first = middle;
        atFirst = at;
      }
    }
    double part = StateBounds.ramp(probability, atFirst, atLast);
    return Math.min(LOWEST + (first + part) * STEP, even);
  }

  /** Cumulative normal distribution (logistic approximation, within 0.01). */
  private static double normal(double z) {
    return 1 / (1 + Math.exp(-1.702 * z));
  }
}
