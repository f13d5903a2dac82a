package org.solarmargin.cli.fit.logger;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** The rate of fresh readings in rows every 20 ms. */
class ChannelStatisticsTest {

  private static ChannelStatistics of(int rows, double sampledEvery, int lostEvery) {
    long[] nanos = new long[rows];
    double[] values = new double[rows];
    int taken = -1;
    for (int i = 0; i < rows; i++) {
      nanos[i] = i * 20_000_000L;
      int sample = (int) Math.floor(nanos[i] * 1e-9 / sampledEvery + 1e-6);
      boolean lost = lostEvery > 0 && sample % lostEvery == 1;
      values[i] = sample == taken || lost ? Double.NaN : 3 + 0.01 * (sample * 7 % 13);
      taken = sample;
    }
    return ChannelStatistics.of(nanos, values, rows);
  }

  /** 8 Hz beside 50 Hz: six or seven rows apart, alternately; the mean is the period. */
  @Test
  void aPeriodBetweenTwoMultiplesOfTheRowsIsTheirMean() {
    ChannelStatistics held = of(1000, 0.125, 0);
    assertEquals(0.125, held.periodSeconds(), 2e-4);
    assertTrue(held.periodSd() < 2e-3 && held.periodSd() > 0, held.toString());
  }

  @Test
  void lostReadingsDoNotLengthenIt() {
    assertEquals(0.1, of(1000, 0.1, 10).periodSeconds(), 1e-9);
  }

  @Test
  void tooFewReadingsTellNothing() {
    assertTrue(Double.isNaN(of(49, 0.02, 0).periodSeconds()));
    assertEquals(0.02, of(50, 0.02, 0).periodSeconds(), 1e-9);
  }
}
