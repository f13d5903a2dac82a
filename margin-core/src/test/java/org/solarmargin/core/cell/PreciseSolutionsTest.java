package org.solarmargin.core.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.core.array.SolarArray;

/** Published 40-digit solutions; the file's header names their source. */
class PreciseSolutionsTest {

  /** Tolerance for double-precision arithmetic only. */
  private static final double RELATIVE = 1e-9;

  static Stream<String> rows() throws IOException {
    try (BufferedReader in =
        new BufferedReader(
            new InputStreamReader(
                PreciseSolutionsTest.class.getResourceAsStream(
                    "/single-diode/single-diode-precise.csv"),
                StandardCharsets.UTF_8))) {
      List<String> lines = in.lines().filter(line -> !line.startsWith("#")).toList();
      return lines.subList(1, lines.size()).stream();
    }
  }

  @ParameterizedTest
  @MethodSource("rows")
  void reproducesEveryRow(String row) {
    String[] f = row.split(",", -1);
    int series = Integer.parseInt(f[6]);
    double thermal = Double.parseDouble(f[8]) / series;
    double ideality = thermal / (Physics.BOLTZMANN_VOLTS_PER_KELVIN * Physics.REFERENCE_KELVIN);
    CellParameters cell =
        new CellParameters(
            Double.parseDouble(f[1]),
            Double.parseDouble(f[2]),
            ideality,
            Double.parseDouble(f[3]) / series,
            Double.parseDouble(f[4]) / series,
            0);
    SolarArray module = new SolarArray(cell, series, 1);
    module.solvePeak();
    near(f[9], module.openCircuitVolts());
    near(f[10], module.shortCircuitAmps());
    near(f[11], module.peakVolts());
    near(f[12], module.peakAmps());
    near(f[13], module.peakWatts());
    near(f[14], module.ampsAt(0.5 * Double.parseDouble(f[9])));
  }

  private static void near(String expected, double actual) {
    double value = Double.parseDouble(expected);
    assertEquals(value, actual, RELATIVE * Math.abs(value));
  }
}
