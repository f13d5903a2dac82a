package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.IDEALITY;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.SERIES;
import static org.solarmargin.core.estimator.State.VOC_COEFF;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;

/**
 * The maximum power point at the state, and how the available power moves with each hidden
 * quantity.
 *
 * <p>At the peak the power does not move with the diode voltage, so its derivatives are the partial
 * ones there (envelope theorem): no second solve is needed.
 */
final class PowerPeak {

  /** The states that move the peak, in the order of {@link #gradient}. */
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

  /** Derivative of the available power's logarithm by each of {@link #STATES}. */
  double[] gradient() {
    return gradient;
  }

  /**
   * Bus voltage above the peak's at which the curve gives a lower power: where a shadow on a few
   * cells cuts the curve off.
   *
   * @param lower power, W, up to the peak's
   * @return V, the peak's where the power is its own
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

  /** Solves where the curve stands. */
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
