package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.IDEALITY;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.SERIES;
import static org.solarmargin.core.estimator.State.VOC_COEFF;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/**
 * The maximum power point at the state, and the gradient of the available power with respect to the
 * states.
 *
 * <p>At the peak the derivative of power with respect to the diode voltage is zero, so the total
 * derivatives equal the partial ones (envelope theorem) and no second solve is needed.
 */
final class PowerPeak {

  /** The states on which the peak depends, in the order of {@link #gradient}. */
  static final int[] STATES = {LIGHT, CELL, SERIES, IDEALITY, VOC_COEFF};

  private static final int ITERATIONS = 4;

  private final SolarArray array;
  private double watts;
  private double volts;

  private final double[] gradient = new double[STATES.length];

  PowerPeak(SolarArray array) {
    this.array = array;
  }

  double watts() {
    return watts;
  }

  double volts() {
    return volts;
  }

  /** Derivatives of the logarithm of the available power with respect to {@link #STATES}. */
  double[] gradient() {
    return gradient;
  }

  /**
   * Bus voltage above the peak at which the curve gives a lower power: the voltage at which a
   * shadow on a few cells cuts the curve off.
   *
   * @param lower the lower power, W, up to that of the peak
   * @return V; the voltage of the peak if the power is that of the peak
   */
  double voltsAbove(double lower) {
    CellCurve curve = array.curve();
    double at = volts;
    for (int i = 0; i < ITERATIONS; i++) {
      double busAmps = Math.max(lower, 0) / at;
      at = Math.max(array.seriesCells() * curve.voltsAt(busAmps / array.parallelStrings()), volts);
    }
    return at;
  }

  /** Solves for the maximum power point of the curve as it is set. */
  void solve() {
    CellCurve curve = array.curve();
    curve.solvePeak();
    double cellAmps = curve.atAmps();
    double rs = curve.seriesOhms();
    double cellVolts = curve.peakDiodeVolts() - rs * cellAmps;
    volts = array.seriesCells() * cellVolts;
    watts = volts * cellAmps * array.parallelStrings();
    double perAmp = 1 / cellAmps - rs / cellVolts;
    gradient[0] = perAmp * curve.atAmpsPerLogSuns();
    gradient[1] = perAmp * curve.atAmpsPerKelvin();
    gradient[2] = -rs * cellAmps / cellVolts;
    gradient[3] = perAmp * curve.atAmpsPerLogIdeality();
    gradient[4] = perAmp * curve.atAmpsPerVocCoeff();
  }
}
