package org.solarmargin.core.array;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.cell.CellParameters;

/** An array has the cell's voltage and current times its counts. */
class SolarArrayTest {

  private static final CellParameters CELL =
      new CellParameters(6.02, 1.9e-9, 1.2, 0.0045, 34, 5e-4);

  @Test
  void voltagesAddUpInSeriesAndCurrentsInParallel() {
    SolarArray array = new SolarArray(CELL, 48, 3);
    CellCurve cell = new CellCurve(CELL);
    array.set(0.8, 40);
    cell.set(0.8, 40);
    array.solvePeak();
    cell.solvePeak();
    assertEquals(48 * cell.openCircuitVolts(), array.openCircuitVolts(), 1e-12);
    assertEquals(3 * cell.shortCircuitAmps(), array.shortCircuitAmps(), 1e-12);
    assertEquals(48 * cell.peakVolts(), array.peakVolts(), 1e-12);
    assertEquals(3 * cell.peakAmps(), array.peakAmps(), 1e-12);
    assertEquals(144 * cell.peakVolts() * cell.peakAmps(), array.peakWatts(), 1e-9);
    assertEquals(48 * cell.voltsAt(2), array.voltsAt(6), 1e-12);
    assertEquals(3 * cell.ampsAt(0.5), array.ampsAt(24), 1e-12);
    assertEquals(48, array.seriesCells());
    assertEquals(3, array.parallelStrings());
    assertEquals(cell.voltsAt(2), array.curve().voltsAt(2), 1e-12);
  }

  @ParameterizedTest
  @CsvSource({
    "0, 1, 'seriesCells must be in [1, 10000]: 0'",
    "10001, 1, 'seriesCells must be in [1, 10000]: 10001'",
    "1, 0, 'parallelStrings must be in [1, 10000]: 0'",
    "1, 10001, 'parallelStrings must be in [1, 10000]: 10001'"
  })
  void countsMustBeInRange(int series, int parallel, String message) {
    assertEquals(
        message,
        assertThrows(IllegalArgumentException.class, () -> new SolarArray(CELL, series, parallel))
            .getMessage());
    assertEquals(10_000, new SolarArray(CELL, 10_000, 10_000).seriesCells());
  }
}
