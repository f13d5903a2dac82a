package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/** Compared with a scan of full single-diode curves in series, including the shunt. */
class FirstPeakTest {

  private static final double SUNS = 0.95;
  private static final double CELSIUS = 45;

  @ParameterizedTest
  @CsvSource({"1, 0.9", "1, 0.6", "3, 0.8", "3, 0.5", "8, 0.7", "8, 0.4"})
  void theClosedFormIsWithinOnePercent(int dimCells, double light) {
    SolarArray array = TestCraft.SETTINGS.newArray();
    array.set(SUNS, CELSIUS);
    CellCurve bright = TestCraft.SETTINGS.newArray().curve();
    CellCurve dim = TestCraft.SETTINGS.newArray().curve();
    bright.set(SUNS, CELSIUS);
    dim.set(light * SUNS, CELSIUS);
    int cells = array.seriesCells();
    double best = 0;
    double most = dim.shortCircuitAmps();
    for (int i = 1; i <= 4000; i++) {
      double amps = most * i / 4000;
      double volts = (cells - dimCells) * bright.voltsAt(amps) + dimCells * dim.voltsAt(amps);
      best = Math.max(best, volts * amps * array.parallelStrings());
    }
    assertEquals(best, FirstPeak.watts(array, dimCells, light), 0.01 * best);
  }
}
