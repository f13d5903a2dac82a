package org.solarmargin.cli.fit;

import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.cell.Physics;

/**
 * The single-diode parameters of one cell at 1000 W/m2 and 25 degrees Celsius in the coordinates of
 * the fit: photocurrent IL, diode voltage W at which the diode takes it, logarithm of the ideality
 * n, series resistance Rs, shunt conductance G. {@code I0 = IL exp(-W / (n kT/q))}: W is nearly the
 * open-circuit voltage, which keeps the problem well scaled where I0 and n would not.
 */
final class Theta {

  static final int IL = 0;
  static final int W = 1;
  static final int LOG_N = 2;
  static final int RS = 3;
  static final int G = 4;
  static final int SIZE = 5;

  /** kT/q at 25 degrees Celsius, V. */
  static final double REFERENCE_THERMAL_VOLTS =
      Physics.BOLTZMANN_VOLTS_PER_KELVIN * Physics.REFERENCE_KELVIN;

  private static final double NO_SHUNT_OHMS = 1e9;

  /** Keeps the saturation current a number where a wild fit would let it vanish. */
  private static final double LEAST_SHARE = 1e-290;

  private Theta() {}

  /** All places, none held. */
  static int[] all() {
    return new int[] {IL, W, LOG_N, RS, G};
  }

  static double[] of(CellParameters cell) {
    double logRatio = Math.log(cell.photocurrentAmps() / cell.saturationAmps());
    return new double[] {
      cell.photocurrentAmps(),
      cell.ideality() * REFERENCE_THERMAL_VOLTS * logRatio,
      Math.log(cell.ideality()),
      cell.seriesOhms(),
      1 / cell.shuntOhms()
    };
  }

  static CellParameters cell(double[] theta, double iscCoeffPerKelvin) {
    double ideality = Math.exp(theta[LOG_N]);
    double reduced = theta[W] / (ideality * REFERENCE_THERMAL_VOLTS);
    double saturation = theta[IL] * Math.max(Math.exp(-reduced), LEAST_SHARE);
    double shunt = theta[G] > 1 / NO_SHUNT_OHMS ? 1 / theta[G] : NO_SHUNT_OHMS;
    return new CellParameters(theta[IL], saturation, ideality, theta[RS], shunt, iscCoeffPerKelvin);
  }
}
