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

  private static final int ITERATIONS = 6;

  /** Last step of the diode voltage, V: its error is then of the order of the step's square. */
  private static final double TOLERANCE_VOLTS = 1e-6;

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

  /**
   * Variance of the logarithm of the power at the last solution that a covariance of the states
   * implies.
   */
  double logVariance(Covariance p) {
    return p.variance(gradient, STATES);
  }

  /** Derivatives of the logarithm of the available power with respect to {@link #STATES}. */
  double[] gradient() {
    return gradient;
  }

  /**
   * Bus voltage above the peak at which the curve gives a lower power: the voltage at which a
   * shadow on a few cells cuts the curve off.
   *
   * <p>The power is a concave function of the diode voltage. Newton's method starts where the
   * parabola through the peak has the lower power, or at open circuit, which is above the solution,
   * and approaches it from there.
   *
   * @param lower the lower power, W, up to that of the peak
   * @return V; the voltage of the peak if the power is that of the peak
   */
  double voltsAbove(double lower) {
    CellCurve curve = array.curve();
    double rs = curve.seriesOhms();
    double cells = array.seriesCells() * array.parallelStrings();
    double target = Math.max(lower, 0) / cells;
    double fall = Math.max(watts / cells - target, 0);
    double above = curve.peakDiodeVolts() + Math.sqrt(2 * fall / curvatureAtPeak());
    double diodeVolts = Math.min(above, curve.openCircuitEstimate());
    double at = volts;
    for (int i = 0; i < ITERATIONS && fall > 0; i++) {
      curve.moveTo(diodeVolts);
      double amps = curve.atAmps();
      double conductance = curve.atConductance();
      double cellVolts = diodeVolts - rs * amps;
      double perVolt = conductance * cellVolts - (1 + rs * conductance) * amps;
      if (!(perVolt > 0)) {
        // rounding at the peak itself
        break;
      }
      double step = (cellVolts * amps - target) / perVolt;
      at = array.seriesCells() * (cellVolts + (1 + rs * conductance) * step);
      diodeVolts += step;
      if (Math.abs(step) < TOLERANCE_VOLTS) {
        break;
      }
    }
    return Math.max(at, volts);
  }

  /** Negative second derivative of a cell's power with respect to the diode voltage, A/V. */
  private double curvatureAtPeak() {
    CellCurve curve = array.curve();
    curve.moveTo(curve.peakDiodeVolts());
    double rs = curve.seriesOhms();
    double conductance = curve.atConductance();
    double span = curve.peakDiodeVolts() - 2 * rs * curve.atAmps();
    return conductance * (2 + 2 * rs * conductance + span / curve.thermalVolts());
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
