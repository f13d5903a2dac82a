package org.solarmargin.cli.ramp;

import java.util.List;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.MultivariateJacobianFunction;
import org.hipparchus.util.Pair;
import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.estimator.EstimatorSettings;

/**
 * Residuals of a ramp in sigmas: voltage of the array at the measured currents, and deviation of
 * each unknown from its prior. The unknowns are light, temperature and their drifts, cell
 * parameters and calibration; the second hypothesis also has some cells with less light.
 * Temperature and light drift with the throttle, because the rotors cool the cells. The priors
 * without a source are engineering judgement, checked by {@code RampStudy}.
 */
final class RampModel implements MultivariateJacobianFunction {

  static final int LOG_LIGHT = 0;
  static final int CELSIUS = 1;
  private static final int COOLING = 2;
  private static final int CURVATURE = 3;
  private static final int LIGHT_DRIFT = 4;
  private static final int SERIES = 5;
  private static final int IDEALITY = 6;
  private static final int VOLT_GAIN = 7;
  private static final int AMP_GAIN = 8;
  private static final int AMP_OFFSET = 9;
  private static final int DELAY = 10;
  static final int EVEN = 11;
  static final int LOG_CELLS = 11;
  static final int LOG_DIM = 12;
  static final int UNEVEN = 13;

  private static final double THERMOMETER_KELVIN = 3;
  private static final double WEATHER_KELVIN = 12;

  /** Model and quantisation error of a mean voltage, relative to the open-circuit voltage. */
  private static final double VOLTS_FLOOR = 0.0004;

  private static final int NEAR = 4;
  private static final double STEP = 1e-4;

  private final EstimatorSettings settings;
  private final List<RampPoint> points;
  private final boolean uneven;
  private final double[] rise;
  private final double[] ampsPerSecond;
  private final double[] sigma;
  private final double[] prior;
  private final double[] priorSd;
  private final CellCurve cell;
  private final CellCurve dim;

  RampModel(EstimatorSettings settings, List<RampPoint> points, boolean uneven) {
    this.settings = settings;
    this.points = points;
    this.uneven = uneven;
    cell = new CellCurve(settings.cell());
    dim = new CellCurve(settings.cell());
    int n = points.size();
    rise = new double[n];
    ampsPerSecond = new double[n];
    sigma = new double[n];
    double low = points.get(0).throttle();
    double span = Math.max(points.get(n - 1).throttle() - low, 1e-3);
    for (int i = 0; i < n; i++) {
      rise[i] = (points.get(i).throttle() - low) / span;
      slopes(i);
    }
    prior = priors();
    priorSd = sigmas();
  }

  /**
   * Slopes of both readings about a point; the current's noise contributes through the slope of the
   * curve.
   */
  private void slopes(int i) {
    RampPoint here = points.get(i);
    int from = Math.max(i - NEAR, 0);
    int to = Math.min(i + NEAR, points.size() - 1);
    double seconds = points.get(to).seconds() - points.get(from).seconds();
    double amps = points.get(to).amps() - points.get(from).amps();
    double volts = points.get(to).volts() - points.get(from).volts();
    ampsPerSecond[i] = amps / Math.max(seconds, 1e-3);
    EstimatorSettings.Sensors s = settings.sensors();
    double ampsNoise = s.currentNoiseAmps() / Math.sqrt(here.fresh());
    double voltsNoise = s.voltageNoiseVolts() / Math.sqrt(here.fresh());
    double slope = volts / Math.max(Math.abs(amps), 2 * ampsNoise);
    double floor = VOLTS_FLOOR * points.get(0).volts();
    // the mean over a curved piece lies off the curve
    double bent = 0.05 * Math.abs(volts);
    sigma[i] =
        Math.sqrt(
            voltsNoise * voltsNoise
                + slope * slope * ampsNoise * ampsNoise
                + floor * floor
                + bent * bent);
  }

  private double[] priors() {
    EstimatorSettings.Thermal heat = settings.thermal();
    double measured = points.stream().mapToDouble(RampPoint::celsius).average().orElse(Double.NaN);
    double warm = heat.ambientCelsius() + heat.sunRiseKelvin();
    double[] p = new double[uneven ? UNEVEN : EVEN];
    p[LOG_LIGHT] = Math.log(0.8);
    p[CELSIUS] = Double.isNaN(measured) ? warm : measured;
    p[COOLING] = Double.isNaN(measured) ? 4 : 0;
    if (uneven) {
      p[LOG_CELLS] = Math.log(4);
      p[LOG_DIM] = Math.log(0.6);
    }
    return p;
  }

  private double[] sigmas() {
    EstimatorSettings.Sensors s = settings.sensors();
    EstimatorSettings.CellSpread c = settings.cellSpread();
    double measured = points.get(0).celsius();
    double[] sd = new double[uneven ? UNEVEN : EVEN];
    sd[LOG_LIGHT] = 1;
    sd[CELSIUS] = Double.isNaN(measured) ? WEATHER_KELVIN : THERMOMETER_KELVIN;
    sd[COOLING] = 8;
    sd[CURVATURE] = 2;
    sd[LIGHT_DRIFT] = 0.02;
    sd[SERIES] = Math.max(c.seriesLogSd(), 0.02);
    sd[IDEALITY] = Math.max(c.idealityLogSd(), 0.01);
    sd[VOLT_GAIN] = Math.max(s.voltageGainSd(), 1e-4);
    sd[AMP_GAIN] = Math.max(s.currentGainSd(), 1e-4);
    sd[AMP_OFFSET] = Math.max(s.currentOffsetSdAmps(), 1e-4);
    sd[DELAY] = 0.3;
    if (uneven) {
      sd[LOG_CELLS] = 1.5;
      sd[LOG_DIM] = 1;
    }
    return sd;
  }

  double[] start(double logLight) {
    double[] start = prior.clone();
    start[LOG_LIGHT] = logLight;
    return start;
  }

  int size() {
    return points.size() + prior.length;
  }

  /** Sets both curves to light and temperature at a fraction of the ramp. */
  private void move(double[] p, double share) {
    double suns = Math.exp(p[LOG_LIGHT]) * (1 + p[LIGHT_DRIFT] * (share - 1));
    double celsius = p[CELSIUS] + p[COOLING] * (1 - share) + p[CURVATURE] * 4 * share * (1 - share);
    double series = Math.exp(p[SERIES]);
    double ideality = Math.exp(p[IDEALITY]);
    suns = Math.min(Math.max(suns, 0.01), 3);
    celsius = Math.min(Math.max(celsius, -60), 150);
    cell.setAltered(suns, celsius, series, ideality);
    if (uneven) {
      dim.setAltered(suns * Math.exp(Math.min(p[LOG_DIM], 0)), celsius, series, ideality);
    }
  }

  /** Voltage of the array at a current, with the curves as set. */
  private double volts(double[] p, double amps) {
    double each = amps / settings.parallelStrings();
    double cells = settings.seriesCells();
    double volts = cells * voltsOf(cell, each);
    if (!uneven) {
      return volts;
    }
    double few = Math.min(Math.exp(p[LOG_CELLS]), cells / 2);
    return volts + few * (voltsOf(dim, each) - voltsOf(cell, each));
  }

  private static double voltsOf(CellCurve curve, double amps) {
    return Math.max(curve.voltsAt(amps), -30);
  }

  /**
   * Power and current at the first peak from open circuit down, at the ramp's end. The model of
   * even light also accepts the unknowns of uneven light and ignores the dim cells.
   */
  double[] firstPeak(double[] p) {
    move(p, 1);
    double most = 1.2 * cell.shortCircuitAmps() * settings.parallelStrings();
    double[] peak = {0, 0};
    for (int i = 1; i <= 2000; i++) {
      double amps = most * i / 2000;
      double watts = amps * volts(p, amps);
      if (watts <= peak[0]) {
        break;
      }
      peak[0] = watts;
      peak[1] = amps;
    }
    return peak;
  }

  /**
   * Voltage that would be read at a point of the ramp's end if all cells had the light of the
   * better ones, V.
   */
  double evenVolts(double[] p, RampPoint at) {
    move(p, 1);
    double amps = (at.amps() - p[AMP_OFFSET]) / (1 + p[AMP_GAIN]);
    return (1 + p[VOLT_GAIN])
        * settings.seriesCells()
        * voltsOf(cell, amps / settings.parallelStrings());
  }

  private double[] residuals(double[] p) {
    double[] r = new double[size()];
    int n = points.size();
    for (int i = 0; i < n; i++) {
      RampPoint at = points.get(i);
      move(p, rise[i]);
      double amps = (at.amps() + p[DELAY] * ampsPerSecond[i] - p[AMP_OFFSET]) / (1 + p[AMP_GAIN]);
      r[i] = ((1 + p[VOLT_GAIN]) * volts(p, amps) - at.volts()) / sigma[i];
    }
    for (int k = 0; k < p.length; k++) {
      r[n + k] = (p[k] - prior[k]) / priorSd[k];
    }
    return r;
  }

  @Override
  public Pair<RealVector, RealMatrix> value(RealVector point) {
    double[] p = point.toArray();
    double[] r = residuals(p);
    RealMatrix jacobian = MatrixUtils.createRealMatrix(r.length, p.length);
    for (int k = 0; k < p.length; k++) {
      double[] moved = p.clone();
      double step = STEP * Math.max(priorSd[k], 1e-3);
      moved[k] += step;
      double[] there = residuals(moved);
      for (int i = 0; i < r.length; i++) {
        jacobian.setEntry(i, k, (there[i] - r[i]) / step);
      }
    }
    return new Pair<>(new ArrayRealVector(r, false), jacobian);
  }
}
