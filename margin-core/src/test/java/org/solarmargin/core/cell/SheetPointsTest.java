package org.solarmargin.core.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The model of a data sheet passes through its three points, with the peak at the third. */
class SheetPointsTest {

  @ParameterizedTest
  @CsvSource({
    "6.02, 0.683, 5.70, 0.574, -0.0029",
    "6.02, 0.683, 5.70, 0.574, -0.0018",
    "6.02, 0.683, 5.70, 0.574, -0.006",
    "6.1, 0.73, 5.8, 0.615, -0.0024",
    "9.0, 0.63, 8.4, 0.52, -0.0033",
    "5.5, 0.62, 4.6, 0.46, -0.004"
  })
  void theCurvePassesThroughTheSheetsPoints(
      double isc, double voc, double impp, double vmpp, double coeff) {
    CellParameters cell = new DataSheet(isc, voc, impp, vmpp, 0.0004, coeff).toParameters();
    CellCurve curve = new CellCurve(cell);
    assertEquals(isc, curve.shortCircuitAmps(), 1e-9);
    assertEquals(voc, curve.openCircuitVolts(), 1e-9);
    assertEquals(impp, curve.ampsAt(vmpp), 1e-9);
    curve.solvePeak();
    assertEquals(vmpp, curve.peakVolts(), 2e-6);
    assertEquals(impp * vmpp, curve.peakVolts() * curve.peakAmps(), 1e-9);
    assertEquals(
        0.0004 * isc,
        cell.photocurrentTempCoeffPerKelvin() * cell.photocurrentAmps(),
        1e-12,
        "the coefficient of the short circuit, in A/K");
    assertEquals(coeff, cell.vocTempCoeffPerKelvin());
    assertEquals(25, cell.benchCelsius(), 1e-9);
  }

  /**
   * The points of a model, with the coefficient that silicon's gap gives it: its own ideality,
   * series and shunt resistance come back.
   */
  @ParameterizedTest
  @CsvSource({
    "1e-10, 1.1, 0.004, 40",
    "2e-10, 1.05, 0.005, 9",
    "1.5e-9, 1.25, 0.002, 150",
    "5e-11, 1, 0.006, 20"
  })
  void aModelsOwnPointsGiveItBack(double saturation, double ideality, double series, double shunt) {
    CellParameters plain = new CellParameters(6, saturation, ideality, series, shunt, 0.0005);
    CellParameters model = plain.withVocTempCoeff(siliconCoeff(plain), 25);
    CellCurve curve = new CellCurve(model);
    curve.solvePeak();
    DataSheet sheet =
        new DataSheet(
            curve.shortCircuitAmps(),
            curve.openCircuitVolts(),
            curve.peakAmps(),
            curve.peakVolts(),
            0.0005,
            model.vocTempCoeffPerKelvin());
    CellParameters back = sheet.toParameters();
    assertEquals(ideality, back.ideality(), 1e-5);
    assertEquals(series, back.seriesOhms(), 1e-6);
    assertEquals(1 / shunt, 1 / back.shuntOhms(), 1e-5);
    assertEquals(1, back.saturationAmps() / saturation, 1e-3);
    assertEquals(6, back.photocurrentAmps(), 1e-4);
  }

  /**
   * d ln Voc / dT of a silicon cell: the open circuit, IL + I0 = I0 exp(V/nVt) + V/Rsh,
   * differentiated by temperature with d ln I0 / dT = 3/T + Eg/(k T T), Eg linear about 25 degrees
   * Celsius as in De Soto et al. (Solar Energy 80, 2006): 1.121 eV falling by 0.02677 % a kelvin.
   */
  private static double siliconCoeff(CellParameters cell) {
    double t = 298.15;
    double k = 8.617333262145177e-5;
    double growth = 3 / t + 1.121 * (1 + 0.0002677 * t) / (k * t * t);
    double v = new CellCurve(cell).openCircuitVolts();
    double thermal = cell.ideality() * k * t;
    double diode = cell.saturationAmps() * Math.exp(v / thermal);
    double slope =
        (cell.photocurrentTempCoeffPerKelvin() * cell.photocurrentAmps()
                + diode * v / (thermal * t)
                - growth * (diode - cell.saturationAmps()))
            / (diode / thermal + 1 / cell.shuntOhms());
    return slope / v;
  }
}
