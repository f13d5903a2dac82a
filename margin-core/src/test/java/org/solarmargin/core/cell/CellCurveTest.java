package org.solarmargin.core.cell;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The curve against the single-diode equation itself, its derivatives against differences, its peak
 * against its neighbours.
 */
class CellCurveTest {

  /** CODATA 2018, exact since the SI of 2019: 1.380649e-23 / 1.602176634e-19 V/K. */
  private static final double K = 1.380649e-23 / 1.602176634e-19;

  private static final CellParameters CELL =
      new CellParameters(6.02, 1.9e-9, 1.2, 0.0045, 34, 5e-4, -0.0031, 40);

  private static CellCurve curve(
      double suns, double celsius, double series, double ideality, double shift) {
    CellCurve curve = new CellCurve(CELL);
    curve.setAltered(suns, celsius, series, ideality, shift);
    return curve;
  }

  @ParameterizedTest
  @CsvSource({
    "1, 25, 1, 1, 0",
    "0.8, 60, 1.3, 1, 0",
    "0.05, -10, 0.7, 1.06, 1e-4",
    "1.6, 90, 1, 0.95, -2e-4"
  })
  void everyPointHoldsTheSingleDiodeEquation(
      double suns, double celsius, double series, double ideality, double shift) {
    CellCurve curve = curve(suns, celsius, series, ideality, shift);
    double photo = suns * 6.02 * (1 + 5e-4 * (celsius - 25));
    double thermal = 1.2 * ideality * K * (celsius + 273.15);
    double ohms = 0.0045 * series;
    assertEquals(photo, curve.photocurrentAmps(), 1e-12);
    assertEquals(thermal, curve.thermalVolts(), 1e-12);
    assertEquals(ohms, curve.seriesOhms(), 1e-15);
    double saturation = curve.saturationAmps();
    double open = curve.openCircuitVolts();
    for (double volts : new double[] {-0.5, 0, 0.5 * open, 0.9 * open, open, 1.05 * open}) {
      double amps = curve.ampsAt(volts);
      double diode = volts + amps * ohms;
      double expected = photo - saturation * Math.expm1(diode / thermal) - diode * suns / 34;
      assertEquals(expected, amps, 1e-11 * (1 + photo), "at " + volts);
      assertEquals(expected, curve.ampsAtDiode(diode), 1e-9);
      assertEquals(volts, curve.voltsAt(amps), 1e-10, "and back");
    }
    assertEquals(0, curve.ampsAt(open), 1e-10);
    assertEquals(curve.ampsAt(0), curve.shortCircuitAmps());
    double beyond = curve.voltsAt(2 * photo);
    // the diode blocks: the shunt alone carries what is above the photocurrent
    assertEquals(-(photo - saturation) * 34 / suns - 2 * photo * ohms, beyond, 1e-6);
    // without a shunt the open-circuit voltage is exact
    assertEquals(
        thermal * Math.log((photo + saturation) / saturation), curve.openCircuitEstimate(), 1e-12);
    assertTrue(open < curve.openCircuitEstimate());
  }

  @Test
  void withoutAShuntNoMoreThanThePhotocurrentFlows() {
    CellCurve curve =
        new CellCurve(
            new CellParameters(6.02, 1.9e-9, 1.2, 0.0045, Double.POSITIVE_INFINITY, 5e-4));
    assertEquals(Double.NEGATIVE_INFINITY, curve.voltsAt(6.02 + 1.9e-9));
    assertEquals(Double.NEGATIVE_INFINITY, curve.voltsAt(7));
    assertTrue(curve.voltsAt(6.019) > -1);
    assertEquals(curve.openCircuitEstimate(), curve.openCircuitVolts(), 1e-12);
    assertEquals(6.02, curve.ampsAt(-2), 1e-8);
  }

  /** Stretched about the open circuit of one sun: the ideality alone does not move that voltage. */
  @Test
  void anotherIdealityKeepsTheOpenCircuitOfOneSun() {
    double plain = curve(1, 25, 1, 1, 0).openCircuitEstimate();
    assertEquals(plain, curve(1, 25, 1, 1.1, 0).openCircuitEstimate(), 1e-9);
    assertEquals(plain, curve(1, 25, 1, 0.9, 0).openCircuitEstimate(), 1e-9);
    assertTrue(curve(0.1, 25, 1, 1.1, 0).openCircuitEstimate() < plain - 0.03);
    CellCurve four = new CellCurve(CELL);
    four.setAltered(0.8, 50, 1.2, 1.05);
    assertEquals(curve(0.8, 50, 1.2, 1.05, 0).voltsAt(2), four.voltsAt(2));
  }

  @ParameterizedTest
  @CsvSource({
    "1, 25, 1, 1, 0",
    "0.3, 70, 1.4, 1.05, 1e-4",
    "0.02, -20, 1, 1, 0",
    "2, 95, 2, 1.1, 0"
  })
  void thePeakIsTheHighestPoint(
      double suns, double celsius, double series, double ideality, double shift) {
    CellCurve cold = curve(suns, celsius, series, ideality, shift);
    cold.solvePeak();
    double best = cold.peakVolts() * cold.peakAmps();
    double at = cold.peakDiodeVolts();
    for (double beside : new double[] {-1e-3, 1e-3, -0.02, 0.02}) {
      double amps = cold.ampsAtDiode(at + beside);
      assertTrue(amps * (at + beside - amps * cold.seriesOhms()) < best, "beside by " + beside);
    }
    // dP/dV = 0: I = V G / (1 + G Rs)
    double conductance = cold.atConductance();
    assertEquals(
        cold.peakAmps(),
        cold.peakVolts() * conductance / (1 + conductance * cold.seriesOhms()),
        1e-5 * cold.peakAmps());
    assertEquals(cold.ampsAtDiode(at), cold.atAmps(), 1e-9, "derivatives are taken there");
    CellCurve warm = new CellCurve(CELL);
    for (double[] before : new double[][] {{2, -20}, {0.001, 90}, {suns, celsius + 0.1}}) {
      warm.set(before[0], before[1]);
      warm.solvePeak();
      warm.setAltered(suns, celsius, series, ideality, shift);
      warm.solvePeak();
      assertEquals(best, warm.peakVolts() * warm.peakAmps(), 1e-10 * best, "from " + before[0]);
      assertEquals(at, warm.peakDiodeVolts(), 1e-6);
      assertEquals(warm.ampsAtDiode(warm.peakDiodeVolts()), warm.atAmps(), 1e-9);
    }
    warm.forgetPeak();
    warm.solvePeak();
    assertEquals(at, warm.peakDiodeVolts(), "as a new curve");
  }

  @ParameterizedTest
  @CsvSource({"1, 25, 1, 0, 0.55", "0.5, 60, 1.05, 1e-4, 0.58", "1.3, 5, 0.95, -1e-4, 0.66"})
  void derivativesAreThoseOfDifferences(
      double suns, double celsius, double ideality, double shift, double diode) {
    CellCurve curve = curve(suns, celsius, 1, ideality, shift);
    curve.moveTo(diode);
    assertEquals(curve.ampsAtDiode(diode), curve.atAmps(), 1e-12);
    double h = 1e-5;
    double perVolt = (curve.ampsAtDiode(diode + h) - curve.ampsAtDiode(diode - h)) / (2 * h);
    near(-perVolt, curve.atConductance());
    near(
        (curve(suns * Math.exp(h), celsius, 1, ideality, shift).ampsAtDiode(diode)
                - curve(suns * Math.exp(-h), celsius, 1, ideality, shift).ampsAtDiode(diode))
            / (2 * h),
        curve.atAmpsPerLogSuns());
    near(
        (curve(suns, celsius + 1e-3, 1, ideality, shift).ampsAtDiode(diode)
                - curve(suns, celsius - 1e-3, 1, ideality, shift).ampsAtDiode(diode))
            / 2e-3,
        curve.atAmpsPerKelvin());
    near(
        (curve(suns, celsius, 1, ideality * Math.exp(h), shift).ampsAtDiode(diode)
                - curve(suns, celsius, 1, ideality * Math.exp(-h), shift).ampsAtDiode(diode))
            / (2 * h),
        curve.atAmpsPerLogIdeality());
    double c = 1e-7;
    near(
        (curve(suns, celsius, 1, ideality, shift + c).ampsAtDiode(diode)
                - curve(suns, celsius, 1, ideality, shift - c).ampsAtDiode(diode))
            / (2 * c),
        curve.atAmpsPerVocCoeff());
  }

  private static void near(double expected, double actual) {
    assertEquals(expected, actual, 2e-5 * Math.abs(expected) + 1e-9);
  }

  /** To third order in the move over the thermal voltage. */
  @Test
  void aSmallMoveNeedsNoExponential() {
    CellCurve curve = curve(1, 25, 1, 1, 0);
    for (double move : new double[] {2e-4, -2e-4}) {
      curve.moveTo(0.62);
      double exponential = 6.02 + 1.9e-9 - 0.62 / 34 - curve.atAmps();
      curve.nudge(move);
      double share = Math.abs(move) / curve.thermalVolts();
      assertEquals(
          curve.ampsAtDiode(0.62 + move), curve.atAmps(), exponential * share * share * share);
    }
  }

  /** A cell measured in the warmth has its own parameters there. */
  @ParameterizedTest
  @CsvSource({"60", "45", "10", "25"})
  void aCellMeasuredAtATemperatureHasItsParametersThere(double celsius) {
    CellParameters cell =
        CellParameters.measuredAt(celsius, 6.1, 3e-8, 1.2, 0.0045, 34, 5e-4, -0.0031);
    CellCurve curve = new CellCurve(cell);
    curve.set(1, celsius);
    assertEquals(6.1, curve.photocurrentAmps(), 1e-12);
    assertEquals(1, curve.saturationAmps() / 3e-8, 1e-11);
    assertEquals(1.2, cell.ideality());
    assertEquals(celsius, cell.benchCelsius());
    curve.set(1, 25);
    double open = curve.openCircuitVolts();
    curve.set(1, 25.01);
    assertEquals(-0.0031, (curve.openCircuitVolts() / open - 1) / 0.01, 2e-6);
  }

  @Test
  void limitsOfParametersThemselvesAreAllowed() {
    assertEquals(0.3, new CellParameters(6, 1e-9, 0.3, 0, 1, 0.01, -0.01, -60).ideality());
    assertEquals(5, new CellParameters(6, 1e-9, 5, 0, 1, -0.01, -1e-9, 150).ideality());
    DataSheet sheet = new DataSheet(6.02, 0.683, 5.70, 0.574, 0.01, -0.01);
    assertEquals(-0.01, sheet.vocTempCoeffPerKelvin());
    assertEquals(-0.01, new DataSheet(6, 0.68, 5.7, 0.57, -0.01, -0.001).iscTempCoeffPerKelvin());
  }
}
