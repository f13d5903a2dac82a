package org.solarmargin.core.estimator;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/**
 * A voltage reading as its residual from the unchanged curve: the part of it that each shadow
 * explains, and its variance and likelihood under each of them. Near the photocurrent of the dim
 * cells the curve is steep, and the noise of the current counts more.
 *
 * <p>The errors of a reading are not white. If a number of readings have the information of one,
 * their joint likelihood is approximately that of each to the power of the inverse of that number.
 */
final class VoltageResidual {

  /** Diode current, relative to the photocurrent, below which the unchanged curve ends. */
  private static final double LEAST_SHARE = 0.001;

  /** The same for the slope of a dim cell's curve: engineering judgement. */
  private static final double LEAST_DIM_SHARE = 0.002;

  /** Sigmas beyond which an innovation tells nothing more of slow errors: engineering judgement. */
  private static final double MOST_SIGMAS = 5;

  /** Change of the voltage of one dim cell at each depth, V. */
  private final float[] depthVolts = new float[ShadowPeaks.DEPTHS];

  /** By how much one dim cell at each depth makes the curve steeper, V per ampere, positive. */
  private final float[] depthOhms = new float[ShadowPeaks.DEPTHS];

  private double volts;
  private double ohms;
  private double amps;
  private double diodeAmps;
  private double voltsNoise;
  private double ampsNoise;
  private double information;
  private double beside;
  private double slowVariance;

  /**
   * Takes a reading.
   *
   * @param array the array, its curve set to the unchanged light and temperature
   * @param busVolts V
   * @param cellAmps current of each string, A
   * @param voltsVariance white variance of the voltage, V squared
   * @param ampsVariance white variance of the cell current, A squared
   * @param together number of readings that have the information of one, at least 1
   */
  void take(
      SolarArray array,
      double busVolts,
      double cellAmps,
      double voltsVariance,
      double ampsVariance,
      double together) {
    CellCurve curve = array.curve();
    double thermal = curve.thermalVolts();
    double photo = curve.photocurrentAmps();
    amps = cellAmps;
    diodeAmps = Math.max(photo - cellAmps, LEAST_SHARE * photo);
    volts = busVolts - array.seriesCells() * curve.voltsAt(Math.min(cellAmps, photo));
    ohms = array.seriesCells() * (thermal / diodeAmps + curve.seriesOhms());
    voltsNoise = together * voltsVariance;
    ampsNoise = together * ampsVariance;
    information = 1 / together;
    for (int d = 0; d < depthVolts.length; d++) {
      double left = ShadowPeaks.light(d) * photo - cellAmps;
      depthVolts[d] = (float) (thermal * FirstPeak.logCurrentRatio(left, diodeAmps, photo));
      depthOhms[d] =
          (float) (thermal / Math.max(left, LEAST_DIM_SHARE * photo) - thermal / diodeAmps);
    }
  }

  /** Sets the distance from the middle current, A, and the variance of the slow error there. */
  void setSlowError(double beside, double variance) {
    this.beside = beside;
    slowVariance = variance;
  }

  /** Residual from the unchanged curve, V. */
  double volts() {
    return volts;
  }

  /** Slope of the unchanged curve, V per ampere of cell current, positive. */
  double ohms() {
    return ohms;
  }

  /** Cell current, A. */
  double amps() {
    return amps;
  }

  /** Diode current of the unchanged curve, A, more than 0. */
  double diodeAmps() {
    return diodeAmps;
  }

  /** Distance of the cell current from the middle one, A. */
  double beside() {
    return beside;
  }

  /** Share of an independent reading that this one is, more than 0 to 1. */
  double information() {
    return information;
  }

  /** Variance of the reading without the slow error, V squared. */
  double noise() {
    return voltsNoise + ohms * ohms * ampsNoise;
  }

  /** Residual from the curve under a hypothesis, V. */
  double residual(int hypothesis) {
    if (hypothesis == ShadowMixture.CLEAR) {
      return volts;
    }
    int cells = ShadowPeaks.cells(hypothesis);
    return volts - cells * depthVolts[hypothesis % ShadowPeaks.DEPTHS];
  }

  /** Variance of the innovation under a hypothesis, V squared. */
  double variance(int hypothesis) {
    double slope = ohms;
    if (hypothesis != ShadowMixture.CLEAR) {
      slope += ShadowPeaks.cells(hypothesis) * depthOhms[hypothesis % ShadowPeaks.DEPTHS];
    }
    return slowVariance + voltsNoise + slope * slope * ampsNoise;
  }

  /**
   * Limits an innovation to {@value #MOST_SIGMAS} sigmas, for the update of slow errors: a single
   * wrong reading would otherwise leave them wrong for minutes (P. Huber, Annals of Mathematical
   * Statistics 35, 1964).
   */
  static double limited(double innovation, double variance) {
    double most = MOST_SIGMAS * Math.sqrt(variance);
    return StateBounds.clamp(innovation, -most, most);
  }

  /** Log-likelihood of an innovation, up to a constant. */
  double logLikelihood(double innovation, double variance) {
    return logLikelihood(innovation, variance, information);
  }

  /** Log-likelihood of a share of an independent innovation, up to a constant. */
  static double logLikelihood(double innovation, double variance, double information) {
    return -0.5 * (innovation * innovation / variance + information * Math.log(variance));
  }
}
