package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.hipparchus.analysis.solvers.BisectionSolver;
import org.hipparchus.distribution.continuous.NormalDistribution;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.array.SolarArray;

/** Quantiles of the mixture after five minutes without any evidence. */
class ShadowDistributionTest {

  private static final double LOG_SD = 0.05;
  private static final double LOW = Math.exp(-1.645 * LOG_SD);
  private static final double HALF_DEPTH = 0.025;

  private final ShadowMixture mixture = new ShadowMixture(0.3);
  private final ShadowDistribution distribution =
      new ShadowDistribution(new float[ShadowDistribution.NUMBERS]);
  private ShadowPeaks peaks;
  private double median;

  @BeforeEach
  void waitFiveMinutes() {
    SolarArray array = TestCraft.SETTINGS.newArray();
    peaks = new ShadowPeaks(array);
    array.set(0.9, 45);
    array.solvePeak();
    peaks.take(array.curve());
    median = array.peakWatts();
    UniformLight uniform = new UniformLight(0.02);
    VoltageResidual reading = new VoltageResidual();
    float[] logs = new float[ShadowMixture.CLEAR + 1];
    // noise from which nothing can be told
    reading.take(array, 20, 1, 1e12, 0, 1);
    for (int i = 0; i < 3000; i++) {
      mixture.predict(0.1, 0.998, 0.999, uniform);
      mixture.update(reading, 0, 0, reading.logLikelihood(0, 1e12), logs);
    }
    distribution.take(mixture, peaks, median, LOG_SD);
  }

  @Test
  void shadowsArePresentForTheStatedShareOfTime() {
    assertEquals(0.3, mixture.shadowWeight(), 0.01);
    assertTrue(mixture.healthy());
  }

  /** The fifth percentile of the weighted peaks and of even light, found by sorting the peaks. */
  @Test
  void theLowerQuantileIsThatOfTheSortedPeaks() {
    Integer[] order = new Integer[ShadowPeaks.SHADOWS];
    Arrays.setAll(order, j -> j);
    Arrays.sort(order, (a, b) -> Double.compare(peaks.watts(a), peaks.watts(b)));
    double sum = 0;
    int at = 0;
    while (sum < 0.05) {
      sum += mixture.weight(order[at++]);
    }
    double sorted = peaks.watts(order[at - 1]) / median;
    assertTrue(sorted < LOW, "the quantile is determined by the shadows, not by even light");
    assertEquals(sorted, distribution.quantile(0.05, 1, LOW), HALF_DEPTH);
  }

  @Test
  void higherOddsOfShadowsNeverRaiseAQuantile() {
    double before = LOW;
    for (double trust = 1e-4; trust < 100; trust *= 1.5) {
      double now = distribution.quantile(0.05, trust, LOW);
      assertTrue(now <= before + 1e-12, "trust " + trust);
      before = now;
    }
    assertTrue(before < 0.8 * LOW);
  }

  @Test
  void lowOddsOfShadowsDoNotChangeEvenLight() {
    assertEquals(LOW, distribution.quantile(0.05, 0.001, LOW));
  }

  /**
   * Quantiles between even light and shadows: those of the weighted sum of a normal distribution
   * (Hipparchus) and the steps at the peaks, by root finding. Tolerance: half a grid cell, and the
   * logistic form of the normal distribution, which is within 0.01.
   */
  @ParameterizedTest
  @CsvSource({
    "0.05, 1, 0.05",
    "0.1, 1, 0.05",
    "0.3, 1, 0.05",
    "0.5, 1, 0.05",
    "0.5, 0.2, 0.05",
    "0.05, 1, 0.12",
    "0.3, 4, 0.12",
    "0.5, 0.05, 0.12"
  })
  void quantilesAreThoseOfTheWeightedSum(double probability, double trust, double logSd) {
    distribution.take(mixture, peaks, median, logSd);
    NormalDistribution normal = new NormalDistribution();
    double odds = trust * mixture.shadowWeight() / (1 - mixture.shadowWeight());
    double shadow = odds / (1 + odds);
    double expected =
        new BisectionSolver(1e-9)
            .solve(
                200,
                v ->
                    (1 - shadow) * normal.cumulativeProbability(Math.log(v) / logSd)
                        + shadow * shareBelow(v)
                        - probability,
                0.01,
                1.5);
    double even = Math.exp(normal.inverseCumulativeProbability(probability) * logSd);
    double actual = distribution.quantile(probability, trust, even);
    assertEquals(Math.min(expected, even), actual, 0.014, "even " + even);
  }

  private double shareBelow(double power) {
    double sum = 0;
    for (int j = 0; j < ShadowPeaks.SHADOWS; j++) {
      sum += peaks.watts(j) * 0.995 <= power * median ? mixture.weight(j) : 0;
    }
    return sum / mixture.shadowWeight();
  }

  /**
   * One certain shadow: the quantiles lie in the grid cells next to its peak, on a straight line.
   */
  @Test
  void aCertainShadowIsSpreadOverTwoCells() {
    int hypothesis = 5;
    double[] weights = new double[hypothesis + 1];
    weights[hypothesis] = 1;
    ShadowMixture certain = Mixtures.of(weights);
    for (double at : new double[] {0.301, 0.5149, 0.62, 0.8077}) {
      double scaled = peaks.watts(hypothesis) * 0.995 / at;
      distribution.take(certain, peaks, scaled, LOG_SD);
      // cells of 0.02 from 0.2 on; the weights of both have their mean at the peak
      double mean = 0;
      for (int i = 0; i < 2000; i++) {
        mean += distribution.quantile((i + 0.5) / 2000, 1, 2) / 2000;
      }
      assertEquals(at, mean, 2e-4);
      double lowest = distribution.quantile(1e-4, 1, 2);
      double highest = distribution.quantile(1 - 1e-4, 1, 2);
      assertTrue(lowest <= at - 0.009, "lowest " + lowest);
      assertEquals(0.02 * Math.ceil(highest / 0.02), highest, 1e-4);
      assertTrue(highest >= at && highest < at + 0.04, "highest " + highest);
    }
  }

  /** A share of exactly one percent is neglected. */
  @Test
  void aPercentIsNeglected() {
    ShadowMixture rare = Mixtures.of(0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0.5);
    distribution.take(rare, peaks, median, LOG_SD);
    assertEquals(LOW, distribution.quantile(0.05, 1.0 / 99, LOW));
    double more = distribution.quantile(0.005, 1.2 / 99, LOW);
    assertTrue(more < 0.9 * LOW, "bound " + more);
  }
}
