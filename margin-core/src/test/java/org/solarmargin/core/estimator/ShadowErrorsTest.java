package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The voltage errors of the hypotheses: their first moments move with the probabilities. */
class ShadowErrorsTest {

  private static final int ALL = ShadowMixture.CLEAR + 1;
  private static final int DEPTHS = ShadowPeaks.DEPTHS;
  private static final double SHARE = 0.2;

  /** Moments after 0.3 s: decay, a tenth of each difference deepens, then what comes and goes. */
  private static double[] moved(double[] before, double keep, double fromUniform) {
    double[] m = new double[ALL];
    for (int j = 0; j < ALL; j++) {
      m[j] = keep * before[j];
    }
    for (int j = 1; j < ShadowMixture.CLEAR; j++) {
      if (j % DEPTHS != 0) {
        double net = 0.1 * (m[j - 1] - m[j]);
        m[j - 1] -= net;
        m[j] += net;
      }
    }
    double clear = m[ShadowMixture.CLEAR];
    double coming = SHARE * 0.3 / 30;
    double going = (1 - SHARE) * 0.3 / 30;
    double changing = 0.3 / 10;
    m[ShadowMixture.CLEAR] = (1 - coming - changing) * clear + changing * fromUniform;
    for (int j = 0; j < ShadowMixture.CLEAR; j++) {
      double part = (0.3 / 13 + (j % DEPTHS < 2 ? 0.35 : 0)) / 3;
      m[ShadowMixture.CLEAR] += going * m[j];
      m[j] = (1 - going) * m[j] + coming * part * (clear + fromUniform);
    }
    return m;
  }

  @Test
  void momentsMoveWithTheProbabilities() {
    Random random = new Random(6);
    double[] weights = new double[ALL];
    double[] offsets = new double[ALL];
    double[] slopes = new double[ALL];
    double[] offsetMoments = new double[ALL];
    double[] slopeMoments = new double[ALL];
    double sum = 0;
    for (int j = 0; j < ALL; j++) {
      weights[j] = j < ShadowMixture.CLEAR ? 0.02 * random.nextDouble() : 0.2;
      offsets[j] = 0.1 * random.nextGaussian();
      slopes[j] = 0.05 * random.nextGaussian();
      offsetMoments[j] = weights[j] * offsets[j];
      slopeMoments[j] = weights[j] * slopes[j];
      sum += weights[j];
    }
    double uniformWeight = 1 - sum;
    UniformLight uniform = new UniformLight(0.01);
    uniform.stateSlope(0.04);
    uniform.follow(0.3, 0.7, 1, 0.01, 1);
    assertTrue(Math.min(uniform.offset(), uniform.slope()) > 0.01);
    ShadowMixture mixture = Mixtures.of(weights, offsets, slopes, uniformWeight, sum - 0.2);
    mixture.predict(0.3, 0.9, 0.8, uniform);
    double[] weight = moved(weights, 1, uniformWeight);
    double[] offset = moved(offsetMoments, 0.9, uniformWeight * uniform.offset());
    double[] slope = moved(slopeMoments, 0.8, uniformWeight * uniform.slope());
    for (int j = 0; j < ALL; j++) {
      assertEquals(weight[j], mixture.weight(j), 1e-7, "weight " + j);
      assertEquals(offset[j] / weight[j], mixture.expected(j, 0), 1e-6, "offset " + j);
      double expected = (offset[j] + 2 * slope[j]) / weight[j];
      assertEquals(expected, mixture.expected(j, 2), 1e-6, "slope " + j);
    }
  }

  /** Probabilities of 0 and of 1 are some; one below 0 is none, though the sum is near 1. */
  @ParameterizedTest
  @CsvSource({
    "0, 1, 0, 0, true",
    "0, 0.6, 0.4, 1, true",
    "1, 0, 0, 1, true",
    "-0.2, 1, 0.2, 0, false",
    "0.2, 1, -0.2, 0, false",
    "0, 1, 0, -0.01, false",
    "0, 1, 0, 1.01, false",
    "0, 1.5, 0, 0, false",
    "0, 0.5, 0, 0, false",
    "0, 0.51, 0, 0, true"
  })
  void probabilitiesAreNotNegativeAndAddUp(
      double first, double clear, double uniform, double shadow, boolean healthy) {
    double[] weights = new double[ALL];
    weights[0] = first;
    weights[ShadowMixture.CLEAR] = clear;
    double[] none = new double[ALL];
    assertEquals(healthy, Mixtures.of(weights, none, none, uniform, shadow).healthy());
  }
}
