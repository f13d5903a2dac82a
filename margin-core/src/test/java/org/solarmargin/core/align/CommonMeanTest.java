package org.solarmargin.core.align;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class CommonMeanTest {

  private static final long ROW = 20_000_000L;

  private final CommonMean mean = new CommonMean();

  /** Adds rows until a mean is due; returns the number of that row. */
  private int until(int from, int volts, int amps) {
    for (int i = from; i < from + 200; i++) {
      double v = volts > 0 && i % volts == 0 ? i : Double.NaN;
      double a = amps > 0 && i % amps == 0 ? -i : Double.NaN;
      if (mean.take(i * ROW, v, a)) {
        return i;
      }
    }
    throw new AssertionError("no mean in 200 rows");
  }

  @Test
  void fastReadingsAreAveragedOverTheSameTime() {
    int first = until(1, 1, 1);
    int second = until(first + 1, 1, 1);
    assertEquals(7, second - first, "rows in 0.15 s, to the nearest");
    assertEquals(7, mean.count());
    assertEquals(0.5 * (first + 1 + second), mean.volts(), 1e-9);
    assertEquals(-mean.volts(), mean.amps(), 1e-9);
  }

  @Test
  void aSlowCurrentIsPairedWithTheVoltageOfItsInstant() {
    int row = until(until(1, 1, 10) + 1, 1, 10);
    assertEquals(0, row % 10, "a mean waits for a pair");
    assertEquals(1, mean.count());
    assertEquals(row, mean.volts(), 1e-9);
    assertEquals(-row, mean.amps(), 1e-9);
  }

  @Test
  void alternatingReadingsAreBothAveraged() {
    for (int i = 1; i <= 60; i++) {
      boolean even = i % 2 == 0;
      if (mean.take(i * ROW, even ? 5 : Double.NaN, even ? Double.NaN : 3)) {
        assertEquals(5, mean.volts());
        assertEquals(3, mean.amps());
        assertEquals(16, i, "0.3 s from the first row on, to half a row");
        assertEquals(8, mean.count());
        return;
      }
    }
    throw new AssertionError("no mean");
  }

  @Test
  void aSingleChannelPassesAloneAfterASecond() {
    int row = until(1, 1, 0);
    assertEquals(1, (row - 1) * 0.02, 0.03);
    assertTrue(Double.isNaN(mean.amps()));
    assertFalse(Double.isNaN(mean.volts()));
  }

  @Test
  void slowReadingsPassUnchanged() {
    long slow = 250_000_000L;
    mean.take(0, 0, 0);
    assertTrue(mean.take(slow, 1, 2), "the first two arrive together");
    for (int i = 2; i < 10; i++) {
      assertTrue(mean.take(i * slow, i, 2 * i), "each is due");
      assertEquals(1, mean.count());
      assertEquals(i, mean.volts());
    }
  }

  /** Rows of 1 V, then of 2 V after a gap: only one of 0.5 s and less is bridged. */
  @Test
  void aGapOfMoreThanHalfASecondStartsAnew() {
    for (long gap : new long[] {500_000_000L, 500_000_001L}) {
      mean.reset();
      assertFalse(mean.take(0, 1, 1));
      assertFalse(mean.take(ROW, 1, 1));
      boolean bridged = mean.take(ROW + gap, 2, 4);
      assertEquals(gap == 500_000_000L, bridged);
      if (!bridged) {
        assertFalse(mean.take(2 * ROW + gap, 2, 4));
      }
      assertEquals(bridged ? 4.0 / 3 : 2, mean.volts(), 1e-12);
      assertEquals(bridged ? 2 : 4, mean.amps(), 1e-12);
    }
    mean.reset();
    assertFalse(mean.take(0, 7, 7), "a reset forgets that a mean was due");
    assertEquals(7, mean.volts());
    assertEquals(1, mean.count());
  }
}
