package org.solarmargin.cli.fit.sweep;

import org.solarmargin.core.cell.DataSheet;
import org.solarmargin.core.estimator.EstimatorSettings;

/**
 * Options of a fit.
 *
 * @param iscCoeffPerKelvin relative change of the photocurrent, 1/K
 * @param vocCoeffPerKelvin relative change of the open-circuit voltage as known before the fit, 1/K
 * @param vocCoeffSd its sigma, 1/K
 * @param lightSd sigma of the logarithm of the light at each reading; 0 if the light was constant
 * @param currentNoiseAmps sigma of the current reading; NaN for 0.2 % of the largest
 */
public record FitOptions(
    double iscCoeffPerKelvin,
    double vocCoeffPerKelvin,
    double vocCoeffSd,
    double lightSd,
    double currentNoiseAmps) {

  public static final FitOptions DEFAULT =
      new FitOptions(
          DataSheet.DEFAULT_ISC_TEMP_COEFF_PER_KELVIN,
          DataSheet.DEFAULT_VOC_TEMP_COEFF_PER_KELVIN,
          EstimatorSettings.CellSpread.UNSTATED_VOC_COEFF_SD,
          0,
          Double.NaN);

  private static final double USUAL_NOISE = 0.002;
  private static final int FEW_POINTS = 10;

  /**
   * Ideality held where the points do not determine it: back-contact modules in the Sandia database
   * have 1.11 to 1.24.
   */
  private static final double USUAL_IDEALITY = 1.18;

  /** The same options with a fitted coefficient of the open-circuit voltage. */
  FitOptions withVocCoeff(double coeffPerKelvin, double sd) {
    return new FitOptions(iscCoeffPerKelvin, coeffPerKelvin, sd, lightSd, currentNoiseAmps);
  }

  /** Human-readable origin of the coefficient of the open-circuit voltage before any fit. */
  public String vocCoeffOrigin() {
    boolean usual =
        vocCoeffPerKelvin == DEFAULT.vocCoeffPerKelvin && vocCoeffSd == DEFAULT.vocCoeffSd;
    return usual ? "assumed: give --voc-coeff" : "as stated";
  }

  double currentNoise(double mostAmps) {
    return Double.isNaN(currentNoiseAmps) ? USUAL_NOISE * mostAmps : currentNoiseAmps;
  }

  /** With fewer points than this, undetermined parameters are held at typical values. */
  int fewPoints() {
    return FEW_POINTS;
  }

  double usualIdeality() {
    return USUAL_IDEALITY;
  }
}
