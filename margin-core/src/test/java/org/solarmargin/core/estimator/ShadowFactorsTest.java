package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.array.SolarArray;

/**
 * Factors of a mixture with given probabilities: quantiles of {@link ShadowDistribution}, which has
 * tests of its own, at the odds, tails and allowance that the constants' own words state.
 */
class ShadowFactorsTest {

  private static final double LOG_SD = 0.05;
  private static final double EVEN = 0.98;
  private static final double LOW = 0.91;

  private final SolarArray array = TestCraft.SETTINGS.newArray();
  private final ShadowPeaks peaks = new ShadowPeaks(array);
  private final float[] scratch = new float[ShadowDistribution.NUMBERS];
  private double median;

  /** Twenty hypotheses, from the shallowest of one cell to those of three. */
  private ShadowMixture mixture(double probability) {
    array.set(0.9, 45);
    array.solvePeak();
    peaks.take(array.curve());
    median = array.peakWatts();
    double[] weights = new double[20];
    for (int j = 0; j < weights.length; j++) {
      weights[j] = probability * (j + 1) / 210;
    }
    return Mixtures.of(weights);
  }

  private ShadowFactors factors(double share, ShadowMixture mixture) {
    ShadowFactors factors = new ShadowFactors(share, scratch);
    factors.take(mixture, peaks, median, LOG_SD, EVEN, LOW);
    return factors;
  }

  @Test
  void factorsBeginWithOne() {
    ShadowFactors factors = new ShadowFactors(0.2, scratch);
    assertEquals(1, factors.estimate());
    assertEquals(1, factors.bound());
    assertEquals(1, factors.alertBound());
    assertEquals(1, factors.ceilingBound());
    assertTrue(factors.healthy());
  }

  /**
   * Estimate and alerts need more evidence: the odds are divided by 200 and 10 if shadows are rare,
   * a fifth of the time or less, by 10 and 2 if likely, half of it or more, and by the geometric
   * means half way between.
   */
  @ParameterizedTest
  @CsvSource({
    "0, 0.005, 0.1",
    "0.2, 0.005, 0.1",
    "0.35, 0.0223606797749979, 0.223606797749979",
    "0.5, 0.1, 0.5",
    "0.9, 0.1, 0.5"
  })
  void estimateAndAlertsNeedMoreEvidence(double share, double forEstimate, double forAlert) {
    for (double probability : new double[] {0.3, 0.7, 0.95, 0.99, 0.999}) {
      ShadowMixture mixture = mixture(probability);
      ShadowFactors factors = factors(share, mixture);
      ShadowDistribution distribution = distribution(mixture);
      double estimate = distribution.quantile(0.5, forEstimate, EVEN);
      double alert = distribution.quantile(0.025, forAlert, LOW);
      assertEquals(estimate / EVEN, factors.estimate(), 1e-9, "probability " + probability);
      assertEquals(alert / LOW, factors.alertBound(), 1e-9, "probability " + probability);
    }
  }

  private ShadowDistribution distribution(ShadowMixture mixture) {
    ShadowDistribution distribution = new ShadowDistribution(new float[ShadowDistribution.NUMBERS]);
    distribution.take(mixture, peaks, median, LOG_SD);
    return distribution;
  }

  /**
   * From a probability of 0.045 on, if shadows are rare, and of 0.8, if likely, the bound holds
   * under the shadow: the odds grow by the square of the ratio, the tail of 2.5 % if rare and 3 %
   * if likely shrinks by the ratio, to 1 % at least, and 8 % are taken off, times the square of the
   * probability at these odds; half of that is taken off the ceiling.
   */
  @ParameterizedTest
  @CsvSource({
    "0.2, 0.03, 1, 0.025",
    "0.2, 0.045, 1, 0.025",
    "0.2, 0.09, 4, 0.0125",
    "0.2, 0.9, 400, 0.01",
    "0.5, 0.7, 1, 0.03",
    "0.8, 0.88, 1.21, 0.027272727272727275",
    "0.35, 0.5, 6.944444444444445, 0.010392304845413263"
  })
  void theBoundHoldsUnderALikelyShadow(
      double share, double probability, double trust, double tail) {
    ShadowMixture mixture = mixture(probability);
    double odds = trust * probability / (1 - probability);
    double favour = odds / (1 + odds);
    double quantile = distribution(mixture).quantile(tail, trust, LOW);
    double expected = (1 - 0.08 * favour * favour) * quantile / LOW;
    assertEquals(expected, factors(share, mixture).bound(), 1e-6);
    double ceiling = distribution(mixture).quantile(0.1, 1, LOW) / LOW;
    double allowed = (1 - 0.04 * favour * favour) * ceiling;
    assertEquals(allowed, factors(share, mixture).ceilingBound(), 1e-6);
  }

  /** The bound of a certain shadow is the 1 % quantile of its peaks less 8 %. */
  @Test
  void aCertainShadowLeavesItsPeak() {
    ShadowMixture mixture = mixture(1);
    double expected = 0.92 * distribution(mixture).quantile(0.01, 493.8271604938272, LOW) / LOW;
    ShadowFactors factors = factors(0.2, mixture);
    assertEquals(expected, factors.bound(), 1e-6);
    assertTrue(factors.estimate() < 0.95, "half of the shadows leave less");
  }
}
