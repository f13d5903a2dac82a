package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.array.SolarArray;

/** The stored relative currents of the peaks compared with a search on the present curve. */
class ShadowPeaksTest {

  private static final double TOLERANCE = 0.002;

  @ParameterizedTest
  @CsvSource({"0.3, 10", "0.3, 75", "0.9, 45", "1.2, 10", "1.2, 75"})
  void storedCurrentsGiveThePowerOfASearch(double suns, double celsius) {
    SolarArray array = TestCraft.SETTINGS.newArray();
    ShadowPeaks peaks = new ShadowPeaks(array);
    array.set(suns, celsius);
    peaks.take(array.curve());
    for (int j = 0; j < ShadowPeaks.SHADOWS; j++) {
      double light = ShadowPeaks.light(j % ShadowPeaks.DEPTHS);
      double searched = FirstPeak.watts(array, ShadowPeaks.cells(j), light);
      assertEquals(searched, peaks.watts(j), TOLERANCE * searched, "hypothesis " + j);
    }
  }

  @ParameterizedTest
  @CsvSource({"0", "1", "2"})
  void deeperShadowsLeaveLess(int count) {
    ShadowPeaks peaks = new ShadowPeaks(TestCraft.SETTINGS.newArray());
    int first = count * ShadowPeaks.DEPTHS;
    for (int j = first + 1; j < first + ShadowPeaks.DEPTHS; j++) {
      assertTrue(peaks.watts(j) < peaks.watts(j - 1));
    }
  }
}
