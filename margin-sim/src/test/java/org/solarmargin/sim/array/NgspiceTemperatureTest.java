package org.solarmargin.sim.array;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The linear temperature dependence of the simulator's cells compared with ngspice's own law of a
 * diode, {@code IS (T / T0)^(XTI / N) exp((T / T0 - 1) EG / (N kT / q))}, and with the values of De
 * Soto, Klein and Beckman (Solar Energy 80, 2006). The cell has the coefficient that corresponds to
 * the band gap at 25 degrees.
 */
class NgspiceTemperatureTest {

  private static final double KELVIN = 298.15;
  private static final double THERMAL_VOLTS = 1.380649e-23 / 1.602176634e-19 * KELVIN;
  private static final double ISC_COEFF = 0.0005;

  /** Tolerance in V per cell, in addition to the known curvature of a law with a band gap. */
  private static final double VOLTS = 2e-5;

  /** The curvature is up to 1.1 mV of the 0.45 V at the knee of a hot cell. */
  private static final double POWER = 0.003;

  /**
   * Distance of a law with a band gap and a power of temperature below its tangent at 25 degrees, V
   * per cell: that of the logarithms of the power and of the photocurrent.
   */
  private static double bend(double celsius, double power, double ideality, double iscCoeff) {
    double kelvin = celsius + 273.15;
    double span = kelvin - KELVIN;
    double ofPower = power * (kelvin * Math.log(kelvin / KELVIN) - span);
    double ofLight = kelvin * Math.log1p(iscCoeff * span) - iscCoeff * KELVIN * span;
    return ideality * THERMAL_VOLTS / KELVIN * (ofPower - ofLight);
  }

  @TempDir private Path folder;

  private static SimCell cell(double photo, double saturation, double n, double growth) {
    double ratio = Math.log(photo / saturation);
    double coeff = 1 / KELVIN - (growth - ISC_COEFF) / ratio;
    return new SimCell(photo, saturation, n, 0, 0.0046, 14.4, ISC_COEFF, coeff, 0, 0, 0);
  }

  @ParameterizedTest
  @CsvSource({
    "1.056, 1.206, -10",
    "1.056, 1.206, 10",
    "1.056, 1.206, 50",
    "1.056, 1.206, 75",
    "1.25, 1.12, 0",
    "1.25, 1.12, 50"
  })
  void theLineAgreesWithADiodeOfTheSameBandGap(double ideality, double gap, double celsius)
      throws Exception {
    assumeTrue(Ngspice.installed(), "ngspice is not installed: the check against it is skipped");
    double saturation = 6.02 * Math.exp(-0.684 / (ideality * THERMAL_VOLTS));
    double growth = (gap / THERMAL_VOLTS + 3) / (ideality * KELVIN);
    ArrayLayout layout = ArrayLayout.uniform(cell(6.02, saturation, ideality, growth), 48, 1);
    SimArray array = new SimArray(layout);
    array.set(0.9, celsius + 273.15);
    array.solvePeakGlobally();
    double open = array.openCircuitVolts();
    List<double[]> curve =
        new Ngspice(layout, 0.9, celsius, gap).sweep(folder, 1.01 * open, open / 2000);
    double best = 0;
    double crossing = Double.NaN;
    for (int i = 1; i < curve.size(); i++) {
      double[] row = curve.get(i);
      double[] before = curve.get(i - 1);
      best = Math.max(best, row[0] * row[1]);
      if (before[1] > 0 && row[1] <= 0) {
        crossing = before[0] + (row[0] - before[0]) * before[1] / (before[1] - row[1]);
      }
    }
    double expected = bend(celsius, 3 / ideality, ideality, ISC_COEFF);
    assertEquals(expected, (open - crossing) / 48, VOLTS, "open-circuit voltage");
    assertEquals(1, array.peakWatts() / best, POWER, "maximum power");
  }

  /** The module of pvlib-python's test fixture, solved with 60 digits. */
  @ParameterizedTest
  @CsvSource({
    "1000, 25, 10.401120286, 55.436838636",
    "800, 50, 9.17769312468, 38.8084875749",
    "1000, 75, 8.17425111922, 41.1582675317",
    "200, 25, 9.64315786981, 10.815360292"
  })
  void deSotosValuesAreReproducedWithinTheAccuracyOfALine(
      double irradiance, double celsius, double voc, double pmp) {
    int cells = 18;
    double ideality = 0.473 / cells / THERMAL_VOLTS;
    double iscCoeff = 0.003 / 7.545;
    double growth = (1.121 * (1 + 0.0002677 * KELVIN) / THERMAL_VOLTS + 3) / KELVIN;
    double coeff = 1 / KELVIN - (growth - iscCoeff) / Math.log(7.545 / 1.94e-9);
    SimCell cell =
        new SimCell(
            7.545, 1.94e-9, ideality, 0, 0.094 / cells, 15.72 / cells, iscCoeff, coeff, 0, 0, 0);
    SimArray array = new SimArray(ArrayLayout.uniform(cell, cells, 1));
    array.set(irradiance / 1000, celsius + 273.15);
    array.solvePeakGlobally();
    double above = (array.openCircuitVolts() - voc) / cells;
    assertEquals(bend(celsius, 3, ideality, iscCoeff), above, VOLTS);
    assertEquals(1, array.peakWatts() / pmp, POWER);
  }
}
