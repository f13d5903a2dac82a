package org.solarmargin.core.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Scale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The voltage falls by the cell's stated coefficient, for any ideality. */
class TemperatureLawTest {

  private static double slope(CellCurve curve, double celsius) {
    curve.set(1, celsius + 0.005);
    double warm = curve.openCircuitVolts();
    curve.set(1, celsius - 0.005);
    return (warm - curve.openCircuitVolts()) / 0.01;
  }

  @Property(tries = 300, seed = "21")
  void theOpenCircuitVoltageFallsByTheCoefficient(
      @ForAll @Scale(4) @DoubleRange(min = -26, max = -17) double logSaturation,
      @ForAll @Scale(4) @DoubleRange(min = 0.95, max = 1.6) double ideality,
      @ForAll @Scale(4) @DoubleRange(min = 0, max = 0.15) double shuntShare,
      @ForAll @Scale(4) @DoubleRange(min = -0.005, max = -0.002) double coeff) {
    double isc = 6;
    double w = ideality * 0.0256926 * (Math.log(isc) - logSaturation);
    double shunt = shuntShare > 0 ? w / (isc * shuntShare) : Double.POSITIVE_INFINITY;
    CellParameters cell =
        new CellParameters(isc, Math.exp(logSaturation), ideality, 0.005, shunt, 0.0005, coeff, 25);
    CellCurve curve = new CellCurve(cell);
    double open = curve.openCircuitVolts();
    assertEquals(1, slope(curve, 25) / (coeff * open), 1e-5);
  }

  /**
   * Published coefficients and data of modules of the Sandia module database (King et al.) and of
   * IEC data sheets, in volts per cell: a free ideality does not change the slope of the voltage.
   */
  @ParameterizedTest
  @CsvSource({"1.06", "1.131", "1.28"})
  void aFreeIdealityDoesNotChangeTheSlope(double ideality) {
    // SPR-305-WHT [2009]: 96 cells, 65.31 V, -0.193 V/K, 5.92 A
    double voc = 65.31 / 96;
    double saturation = 5.92 * Math.exp(-voc / (ideality * 0.02569257912108585));
    CellParameters cell =
        new CellParameters(5.92, saturation, ideality, 0.004, 1e9, 0.0004, -0.193 / 65.31, 25);
    CellCurve curve = new CellCurve(cell);
    assertEquals(-0.193 / 96, slope(curve, 25), 1e-3 * 0.193 / 96);
    // in the database's own model the voltage is linear in temperature: SAND2004-3535, equation 3
    curve.set(1, 60);
    assertEquals(voc - 35 * 0.193 / 96, curve.openCircuitVolts(), 1e-3);
    curve.set(1, 0);
    assertEquals(voc + 25 * 0.193 / 96, curve.openCircuitVolts(), 1e-3);
  }

  @Property(tries = 200, seed = "22")
  void aChangeOfTheCoefficientPivotsAboutTheBenchTemperature(
      @ForAll @Scale(4) @DoubleRange(min = -10, max = 70) double bench,
      @ForAll @Scale(4) @DoubleRange(min = -10, max = 70) double celsius,
      @ForAll @Scale(4) @DoubleRange(min = -0.001, max = 0.001) double shift) {
    CellParameters cell = new CellParameters(6, 1e-10, 1.1, 0.005, 1e6, 0.0005, -0.0033, bench);
    CellCurve curve = new CellCurve(cell);
    curve.set(1, bench);
    double there = curve.openCircuitVolts();
    curve.setAltered(1, bench, 1, 1, shift);
    assertEquals(there, curve.openCircuitVolts(), 1e-12);
    curve.set(1, 25);
    double reference = curve.openCircuitVolts();
    curve.set(1, celsius);
    double plain = curve.openCircuitVolts();
    curve.setAltered(1, celsius, 1, 1, shift);
    double moved = curve.openCircuitVolts() - plain;
    double expected = shift * reference * (celsius - bench);
    // linear except for terms of second order in the ratio of span to temperature
    double curvature = Math.abs(shift) * reference * 0.3 * Math.abs(celsius - bench);
    assertEquals(expected, moved, curvature + 1e-9);
  }

  @Property(tries = 200, seed = "23")
  void parametersMeasuredAtAnotherTemperatureReproduceTheirCurve(
      @ForAll @Scale(4) @DoubleRange(min = -40, max = 120) double celsius,
      @ForAll @Scale(4) @DoubleRange(min = -26, max = -16) double logSaturation,
      @ForAll @Scale(4) @DoubleRange(min = 0.95, max = 1.6) double ideality,
      @ForAll @Scale(4) @DoubleRange(min = 0.5, max = 100) double shunt) {
    double saturation = Math.exp(logSaturation);
    CellParameters cell =
        CellParameters.measuredAt(celsius, 6, saturation, ideality, 0.005, shunt, 0.0005, -0.0033);
    CellCurve curve = new CellCurve(cell);
    curve.set(1, celsius);
    double thermal = ideality * 8.617333262145177e-5 * (celsius + 273.15);
    for (double u : new double[] {0, 0.3, 0.5, 0.6}) {
      double amps = 6 - saturation * Math.expm1(u / thermal) - u / shunt;
      assertEquals(amps, curve.ampsAtDiode(u), 1e-10 * (6 + Math.abs(amps)));
    }
  }

  @Test
  void theDerivativeVanishesOnlyAtTheBenchTemperature() {
    CellParameters cell = new CellParameters(6, 1e-10, 1.1, 0.005, 30, 0.0005, -0.0033, 10);
    CellCurve curve = new CellCurve(cell);
    curve.set(1, 10);
    curve.moveTo(0.6);
    assertEquals(0, curve.atAmpsPerVocCoeff(), 1e-9);
    curve.set(1, 40);
    curve.moveTo(0.6);
    assertNotEquals(0, curve.atAmpsPerVocCoeff(), 1);
  }
}
