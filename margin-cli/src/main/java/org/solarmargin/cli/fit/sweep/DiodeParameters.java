package org.solarmargin.cli.fit.sweep;

import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.cell.Physics;

/**
 * The single-diode parameters of one cell at 1000 W/m2 and the bench temperature, in the
 * coordinates of the fit: photocurrent IL, the diode voltage W at which the diode carries all of
 * it, logarithm of the ideality n, series resistance Rs, shunt conductance G, and the relative
 * temperature coefficient of W, which only points at several temperatures determine. {@code I0 = IL
 * exp(-W / (n kT/q))}: W is nearly the open-circuit voltage. With it the problem is well scaled,
 * which it is not in I0 and n.
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

  /** Keeps the saturation current above zero where a poor fit would make it underflow. */
  private static final double LEAST_SHARE = 1e-290;

  /** Step of the numerical derivative of W, K. */
  private static final double STEP_KELVIN = 0.01;

  private static final int MATCHES = 6;

  private DiodeParameters() {}

  /** Indices of all parameters that points at one temperature determine. */
  static int[] all() {
    return new int[] {IL, W, LOG_N, RS, G};
  }

  /** kT/q, V. */
  static double thermalVolts(double celsius) {
    return Physics.BOLTZMANN_VOLTS_PER_KELVIN * (celsius + Physics.ZERO_CELSIUS_KELVIN);
  }

  /** Converts a cell to these coordinates at a bench temperature. */
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

  /**
   * Approximate temperature coefficient of W for a coefficient of the open-circuit voltage at 25 C,
   * 1/K.
   */
  static double slopeOf(double vocCoeff, double celsius) {
    return vocCoeff / (1 + vocCoeff * (celsius - REFERENCE_CELSIUS));
  }

  /**
   * Converts these coordinates to the cell at 25 degrees C with a given coefficient of the
   * open-circuit voltage.
   */
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

  /**
   * The coefficient of the open-circuit voltage at 25 degrees C that corresponds to the coefficient
   * of W at the bench.
   */
  static double vocCoeff(double[] theta, double celsius, double iscCoeffPerKelvin) {
    double coeff = theta[COEFF];
    for (int i = 0; i < MATCHES; i++) {
      CellParameters cell = cell(theta, celsius, iscCoeffPerKelvin, coeff);
      coeff += theta[COEFF] - slope(cell, celsius);
    }
    return coeff;
  }
}
