package org.solarmargin.core.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.array.SolarArray;

/**
 * De Soto, Klein, Beckman, Solar Energy 80 (2006) 78-88: the module of pvlib-python's test fixture,
 * solved with 60 digits. The coefficient of the open-circuit voltage is the one that the paper's
 * silicon band gap implies.
 */
class DeSotoTest {

  private static final int CELLS = 18;

  /** The expected values have 10 to 12 digits. */
  private static final double RELATIVE = 2e-10;

  private static CellParameters fixture() {
    double ideality =
        0.473 / CELLS / (Physics.BOLTZMANN_VOLTS_PER_KELVIN * Physics.REFERENCE_KELVIN);
    return withSiliconGap(
        new CellParameters(7.545, 1.94e-9, ideality, 0.094 / CELLS, 15.72 / CELLS, 0.003 / 7.545));
  }

  /** With d ln I0 / dT of the paper, (3 + Eg0 / kT) / T, computed here from its two constants. */
  private static CellParameters withSiliconGap(CellParameters cell) {
    double kelvin = 298.15;
    double gapAtZero = 1.121 * (1 + 0.0002677 * kelvin);
    double growth = (3 + gapAtZero / (8.617333262145177e-5 * kelvin)) / kelvin;
    // the open circuit, IL + I0 = F + G V, differentiated with respect to temperature
    double v = new CellCurve(cell).openCircuitVolts();
    double thermal = cell.ideality() * 8.617333262145177e-5 * kelvin;
    double diode = cell.saturationAmps() * Math.exp(v / thermal);
    double slope =
        (cell.photocurrentTempCoeffPerKelvin() * cell.photocurrentAmps()
                + diode * v / (thermal * kelvin)
                - growth * (diode - cell.saturationAmps()))
            / (diode / thermal + 1 / cell.shuntOhms());
    return cell.withVocTempCoeff(slope / v, 25);
  }

  @ParameterizedTest
  @CsvSource({
    "1000, 25, 10.401120286, 7.50015175763, 8.39952370793, 6.59999787651, 55.436838636",
    "800, 25, 10.2960325314, 6.00726296152, 8.40941380208, 5.29052564072, 44.4902193434",
    "800, 50, 9.17769312468, 6.06697711744, 7.28981985302, 5.32365522844, 38.8084875749",
    "1000, 75, 8.17425111922, 7.64925301644, 6.19996114388, 6.63847185113, 41.1582675317",
    "200, 25, 9.64315786981, 1.5071974985, 8.12365891847, 1.33134101278, 10.815360292"
  })
  void translatesToLightAndTemperature(
      double irradiance,
      double celsius,
      double voc,
      double isc,
      double vmp,
      double imp,
      double pmp) {
    SolarArray module = new SolarArray(fixture(), CELLS, 1);
    module.set(irradiance / 1000, celsius);
    module.solvePeak();
    assertEquals(voc, module.openCircuitVolts(), RELATIVE * voc);
    assertEquals(isc, module.shortCircuitAmps(), RELATIVE * isc);
    assertEquals(vmp, module.peakVolts(), RELATIVE * vmp);
    assertEquals(imp, module.peakAmps(), RELATIVE * imp);
    assertEquals(pmp, module.peakWatts(), RELATIVE * pmp);
  }

  /** I0 ratios recomputed from the paper's formula with k/q = 8.6173332621451774e-5 V/K. */
  @ParameterizedTest
  @CsvSource({"50, 48.7369686840665", "75, 1382.1598805826"})
  void saturationCurrentGrowsAsPublished(double celsius, double ratio) {
    // at a high reverse voltage without shunt, the cell carries IL + I0
    CellParameters cell =
        withSiliconGap(new CellParameters(1e-3, 1e-9, 1, 0, Double.POSITIVE_INFINITY, 0));
    CellCurve curve = new CellCurve(cell);
    double cold = curve.ampsAtDiode(-5) - 1e-3;
    curve.set(1, celsius);
    assertEquals(ratio, (curve.ampsAtDiode(-5) - 1e-3) / cold, 1e-6 * ratio);
  }

  @Test
  void thermalVoltageIsThatOfSi2019() {
    assertEquals(
        0.02569257912108585, Physics.BOLTZMANN_VOLTS_PER_KELVIN * Physics.REFERENCE_KELVIN, 1e-17);
  }

  /** A back-contact module of the Sandia module database (King et al.), per cell. */
  @Test
  void dataSheetPointsAreReproduced() {
    DataSheet sheet = new DataSheet(5.92, 65.31 / 96, 5.59, 54.43 / 96, 0.0004, -0.193 / 65.31);
    CellCurve curve = new CellCurve(sheet.toParameters());
    curve.solvePeak();
    assertEquals(sheet.iscAmps(), curve.shortCircuitAmps(), 1e-9);
    assertEquals(sheet.vocVolts(), curve.openCircuitVolts(), 1e-9);
    assertEquals(sheet.imppAmps(), curve.peakAmps(), 1e-6);
    assertEquals(sheet.vmppVolts(), curve.peakVolts(), 1e-7);
    double open = curve.openCircuitVolts();
    curve.set(1, 26);
    assertEquals(sheet.vocTempCoeffPerKelvin(), (curve.openCircuitVolts() - open) / open, 2e-6);
    curve.set(1, 25);
    assertEquals(1.131, sheet.toParameters().ideality(), 0.25, "near the database's own ideality");
  }

  @Test
  void anUnusualCoefficientKeepsTheKnee() {
    DataSheet sheet = new DataSheet(6, 0.68, 5.7, 0.57, 0.0005, -0.0099);
    CellCurve curve = new CellCurve(sheet.toParameters());
    curve.solvePeak();
    assertEquals(sheet.imppAmps(), curve.peakAmps(), 1e-6);
    assertEquals(sheet.vmppVolts(), curve.peakVolts(), 1e-7);
    double open = curve.openCircuitVolts();
    curve.set(1, 25.01);
    assertEquals(-0.0099, (curve.openCircuitVolts() / open - 1) / 0.01, 1e-5);
  }

  @Test
  void rejectsImpossiblePoints() {
    IllegalArgumentException fault =
        assertThrows(
            IllegalArgumentException.class,
            () -> new DataSheet(6, 0.68, 6.5, 0.57, 0.0005, -0.003));
    assertTrue(fault.getMessage().contains("6.5"), fault.getMessage());
  }

  @Test
  void rejectsNegativeResistance() {
    assertThrows(
        IllegalArgumentException.class, () -> new CellParameters(6, 1e-10, 1.1, -0.2, 30, 0));
  }
}
