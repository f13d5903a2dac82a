package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
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
    float[] none = new float[ShadowMixture.CLEAR + 1];
    for (int i = 0; i < 3000; i++) {
      mixture.predict(0.1, 0.998, 0.999, uniform);
      mixture.update(none, 0.01, 0, 0, ShadowMixture.logLikelihood(0, 0.01));
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
}
