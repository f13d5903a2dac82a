package org.solarmargin.cli.fit;

import org.solarmargin.core.cell.DataSheet;

/**
 * How a sweep is to be fitted.
 *
 * @param iscCoeffPerKelvin relative change of the photocurrent, 1/K
 * @param lightSd sigma of the light's logarithm at each reading; 0 if the light stood still
 * @param currentNoiseAmps sigma of the current reading; NaN for 0.2 % of the largest
 */
record FitOptions(double iscCoeffPerKelvin, double lightSd, double currentNoiseAmps) {

  static final FitOptions DEFAULT =
      new FitOptions(DataSheet.DEFAULT_ISC_TEMP_COEFF_PER_KELVIN, 0, Double.NaN);

  private static final double USUAL_NOISE = 0.002;
  private static final int FEW_POINTS = 10;

  /**
   * Ideality held where points cannot tell it: back-contact rows of the Sandia database 1.11..1.24.
   */
  private static final double USUAL_IDEALITY = 1.18;

  double currentNoise(double mostAmps) {
    return Double.isNaN(currentNoiseAmps) ? USUAL_NOISE * mostAmps : currentNoiseAmps;
  }

  /** Below this many points, what they cannot determine is held instead. */
  int fewPoints() {
    return FEW_POINTS;
  }

  double usualIdeality() {
    return USUAL_IDEALITY;
  }
}
