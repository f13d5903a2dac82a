package org.solarmargin.cli.fit.sweep;

import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.cell.Physics;

/**
 * The single-diode parameters of one cell at 1000 W/m2 and the temperature of its bench in the
 * coordinates of the fit: photocurrent IL, diode voltage W at which the diode takes it, logarithm
 * of the ideality n, series resistance Rs, shunt conductance G, and the relative temperature
 * coefficient of W, which only points at several temperatures can tell. {@code I0 = IL exp(-W / (n
 * kT/q))}: W is nearly the open-circuit voltage, which keeps the problem well scaled where I0 and n
 * would not.
 */
public final class DiodeParameters {

  static final int IL = 0;
  static final int W = 1;
  public static final int LOG_N = 2;
  public static final int RS = 3;
  public static final int G = 4;
  public static final int COEFF = 5;
  static final int SIZE = 6;

  private static final double REFERENCE_CELSIUS = 25;
  private static final double NO_SHUNT_OHMS = 1e9;

  /** Keeps the saturation current a number where a wild fit would let it vanish. */
  private static final double LEAST_SHARE = 1e-290;

  /** For the slope of W, K. */
  private static final double STEP_KELVIN = 0.01;

  private static final int MATCHES = 6;

  private DiodeParameters() {}

  /** All places that points at one temperature can tell. */
  static int[] all() {
    return new int[] {IL, W, LOG_N, RS, G};
  }

  /** kT/q, V. */
  static double thermalVolts(double celsius) {
    return Physics.BOLTZMANN_VOLTS_PER_KELVIN * (celsius + Physics.ZERO_CELSIUS_KELVIN);
  }

  /** A cell as its bench at a temperature would see it. */
  public static double[] of(CellParameters cell, double celsius) {
    CellCurve curve = new CellCurve(cell);
    curve.set(1, celsius);
    return new double[] {
      curve.ampsAtDiode(0),
      w(cell, curve, celsius),
      Math.log(cell.ideality()),
      cell.seriesOhms(),
      1 / cell.shuntOhms(),
      slope(cell, celsius)
    };
  }

  private static double w(CellParameters cell, CellCurve curve, double celsius) {
    double a = cell.ideality() * thermalVolts(celsius);
    curve.set(1, celsius);
    double withSaturation = curve.openCircuitEstimate();
    return withSaturation + a * Math.log1p(-Math.exp(-withSaturation / a));
  }

  /** Relative temperature coefficient of a cell's W, 1/K. */
  private static double slope(CellParameters cell, double celsius) {
    CellCurve curve = new CellCurve(cell);
    double change = w(cell, curve, celsius + STEP_KELVIN) - w(cell, curve, celsius - STEP_KELVIN);
    return change / (2 * STEP_KELVIN * w(cell, curve, celsius));
  }

  /** What a coefficient of the open-circuit voltage at 25 C makes of W's own, nearly, 1/K. */
  static double slopeOf(double vocCoeff, double celsius) {
    return vocCoeff / (1 + vocCoeff * (celsius - REFERENCE_CELSIUS));
  }

  /** The cell at 25 degrees, its coefficient of the open-circuit voltage as stated. */
  public static CellParameters cell(
      double[] theta, double celsius, double iscCoeffPerKelvin, double vocCoeffPerKelvin) {
    double ideality = Math.exp(theta[LOG_N]);
    double reduced = theta[W] / (ideality * thermalVolts(celsius));
    double saturation = theta[IL] * Math.max(Math.exp(-reduced), LEAST_SHARE);
    double shunt = theta[G] > 1 / NO_SHUNT_OHMS ? 1 / theta[G] : NO_SHUNT_OHMS;
    return CellParameters.measuredAt(
        celsius,
        theta[IL],
        saturation,
        ideality,
        theta[RS],
        shunt,
        iscCoeffPerKelvin,
        vocCoeffPerKelvin);
  }

  /** The coefficient of the open-circuit voltage at 25 degrees that W's own at the bench means. */
  static double vocCoeff(double[] theta, double celsius, double iscCoeffPerKelvin) {
    double coeff = theta[COEFF];
    for (int i = 0; i < MATCHES; i++) {
      CellParameters cell = cell(theta, celsius, iscCoeffPerKelvin, coeff);
      coeff += theta[COEFF] - slope(cell, celsius);
    }
    return coeff;
  }
}
