package org.solarmargin.core.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Scale;
import org.solarmargin.core.array.SolarArray;

class CellLawsProperties {

  private static CellParameters cell(
      double photocurrent, double logSaturation, double ideality, double series, double shunt) {
    return new CellParameters(
        photocurrent, StrictMath.exp(logSaturation), ideality, series, shunt, 0.0005);
  }

  @Property(tries = 500, seed = "11")
  void noPointBeatsTheMaximum(
      @ForAll @Scale(4) @DoubleRange(min = 0.3, max = 12) double photocurrent,
      @ForAll @Scale(4) @DoubleRange(min = -30, max = -13) double logSaturation,
      @ForAll @Scale(4) @DoubleRange(min = 0.9, max = 2) double ideality,
      @ForAll @Scale(4) @DoubleRange(min = 0, max = 0.02) double series,
      @ForAll @Scale(4) @DoubleRange(min = 1, max = 1000) double shunt,
      @ForAll @Scale(4) @DoubleRange(min = 0.02, max = 2) double suns,
      @ForAll @Scale(4) @DoubleRange(min = -20, max = 90) double celsius,
      @ForAll @Scale(4) @DoubleRange(min = 0, max = 1) double place) {
    CellCurve curve = new CellCurve(cell(photocurrent, logSaturation, ideality, series, shunt));
    curve.set(suns, celsius);
    curve.solvePeak();
    double best = curve.peakVolts() * curve.peakAmps();
    double volts = place * curve.openCircuitVolts();
    assertTrue(volts * curve.ampsAt(volts) <= best * (1 + 1e-12));
    assertTrue(best > 0);
  }

  @Property(tries = 500, seed = "12")
  void voltageFallsAsCurrentRises(
      @ForAll @Scale(4) @DoubleRange(min = 0.02, max = 2) double suns,
      @ForAll @Scale(4) @DoubleRange(min = -20, max = 90) double celsius,
      @ForAll @Scale(4) @DoubleRange(min = 0, max = 0.98) double less,
      @ForAll @Scale(4) @DoubleRange(min = 0.001, max = 0.02) double more) {
    CellCurve curve = new CellCurve(cell(6, -23, 1.1, 0.005, 30));
    curve.set(suns, celsius);
    double isc = curve.shortCircuitAmps();
    assertTrue(curve.voltsAt(isc * (less + more)) < curve.voltsAt(isc * less));
  }

  @Property(tries = 300, seed = "13")
  void currentAndVoltageInvertEachOther(
      @ForAll @Scale(4) @DoubleRange(min = 0.05, max = 1.5) double suns,
      @ForAll @Scale(4) @DoubleRange(min = -20, max = 90) double celsius,
      @ForAll @Scale(4) @DoubleRange(min = 0, max = 1) double share) {
    CellCurve curve = new CellCurve(cell(6, -23, 1.1, 0.005, 30));
    curve.set(suns, celsius);
    double volts = share * curve.openCircuitVolts();
    assertEquals(volts, curve.voltsAt(curve.ampsAt(volts)), 1e-8);
  }

  @Property(tries = 300, seed = "14")
  void availablePowerFallsWithLightAndWithHeat(
      @ForAll @Scale(4) @DoubleRange(min = 0.05, max = 1.5) double suns,
      @ForAll @Scale(4) @DoubleRange(min = -10, max = 80) double celsius,
      @ForAll @Scale(4) @DoubleRange(min = 0.01, max = 0.9) double dimming,
      @ForAll @Scale(4) @DoubleRange(min = 0.1, max = 20) double heating) {
    SolarArray array = new SolarArray(cell(6, -23, 1.1, 0.005, 30), 48, 1);
    array.set(suns, celsius);
    array.solvePeak();
    double full = array.peakWatts();
    array.set(suns * (1 - dimming), celsius);
    array.solvePeak();
    assertTrue(array.peakWatts() < full);
    array.set(suns, celsius + heating);
    array.solvePeak();
    assertTrue(array.peakWatts() < full);
  }

  @Property(tries = 200, seed = "15")
  void parallelStringsScaleTheCurrent(
      @ForAll @IntRange(min = 2, max = 20) int strings,
      @ForAll @Scale(4) @DoubleRange(min = 0.05, max = 1.5) double suns,
      @ForAll @Scale(4) @DoubleRange(min = 0, max = 1) double share) {
    CellParameters cell = cell(6, -23, 1.1, 0.005, 30);
    SolarArray one = new SolarArray(cell, 24, 1);
    SolarArray many = new SolarArray(cell, 24, strings);
    one.set(suns, 45);
    many.set(suns, 45);
    double volts = share * one.openCircuitVolts();
    assertEquals(strings * one.ampsAt(volts), many.ampsAt(volts), 1e-9 * strings);
  }

  @Property(tries = 200, seed = "16")
  void aDataSheetOfAModelReproducesTheModelsKnee(
      @ForAll @Scale(4) @DoubleRange(min = -25, max = -20) double logSaturation,
      @ForAll @Scale(4) @DoubleRange(min = 1, max = 1.3) double ideality,
      @ForAll @Scale(4) @DoubleRange(min = 0.001, max = 0.006) double series,
      @ForAll @Scale(4) @DoubleRange(min = 8, max = 200) double shunt) {
    CellParameters plain = cell(6, logSaturation, ideality, series, shunt);
    // the data sheet's coefficient determines the ideality if the cell has silicon's own band gap
    double silicon = TemperatureLaw.siliconVocCoeff(plain);
    CellParameters model = plain.withVocTempCoeff(silicon, 25);
    CellCurve curve = new CellCurve(model);
    curve.solvePeak();
    double isc = curve.shortCircuitAmps();
    double voc = curve.openCircuitVolts();
    double imp = curve.peakAmps();
    double vmp = curve.peakVolts();
    curve.set(1, 25.001);
    double warm = curve.openCircuitVolts();
    curve.set(1, 24.999);
    double coeff = (warm - curve.openCircuitVolts()) / 0.002 / voc;
    CellParameters back = new DataSheet(isc, voc, imp, vmp, 0.0005, coeff).toParameters();
    assertEquals(model.ideality(), back.ideality(), 1e-3);
    assertEquals(model.seriesOhms(), back.seriesOhms(), 2e-5);
  }

  @Property(tries = 200, seed = "17")
  void derivativesEqualFiniteDifferences(
      @ForAll @Scale(4) @DoubleRange(min = 0.1, max = 1.5) double suns,
      @ForAll @Scale(4) @DoubleRange(min = 0, max = 80) double celsius,
      @ForAll @Scale(4) @DoubleRange(min = 0.4, max = 0.65) double diodeVolts) {
    CellCurve curve = new CellCurve(cell(6, -23, 1.1, 0.005, 30));
    double h = 1e-6;
    curve.set(suns, celsius);
    curve.moveTo(diodeVolts);
    double perLight = curve.atAmpsPerLogSuns();
    double perKelvin = curve.atAmpsPerKelvin();
    double perIdeality = curve.atAmpsPerLogIdeality();
    double perCoeff = curve.atAmpsPerVocCoeff();
    double perVolt = -curve.atConductance();
    double scale = 1 + Math.abs(curve.atAmps());
    double up = curve.ampsAtDiode(diodeVolts + h);
    double slope = (up - curve.ampsAtDiode(diodeVolts - h)) / (2 * h);
    assertEquals(slope, perVolt, 1e-5 * (scale + Math.abs(perVolt)));
    curve.set(suns * Math.exp(h), celsius);
    up = curve.ampsAtDiode(diodeVolts);
    curve.set(suns * Math.exp(-h), celsius);
    assertEquals((up - curve.ampsAtDiode(diodeVolts)) / (2 * h), perLight, 1e-6 * scale);
    curve.set(suns, celsius + 1e-4);
    up = curve.ampsAtDiode(diodeVolts);
    curve.set(suns, celsius - 1e-4);
    assertEquals((up - curve.ampsAtDiode(diodeVolts)) / 2e-4, perKelvin, 1e-5 * scale);
    curve.setAltered(suns, celsius, 1, Math.exp(h));
    up = curve.ampsAtDiode(diodeVolts);
    curve.setAltered(suns, celsius, 1, Math.exp(-h));
    assertEquals(
        (up - curve.ampsAtDiode(diodeVolts)) / (2 * h),
        perIdeality,
        1e-5 * (scale + Math.abs(perIdeality)));
    double c = 1e-7;
    curve.setAltered(suns, celsius, 1, 1, c);
    up = curve.ampsAtDiode(diodeVolts);
    curve.setAltered(suns, celsius, 1, 1, -c);
    double difference = (up - curve.ampsAtDiode(diodeVolts)) / (2 * c);
    assertEquals(difference, perCoeff, 1e-6 * (1000 * scale + Math.abs(perCoeff)));
  }
}
