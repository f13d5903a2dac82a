package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.AIR;
import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.CURRENT_GAIN;
import static org.solarmargin.core.estimator.State.CURRENT_OFFSET;
import static org.solarmargin.core.estimator.State.EMF;
import static org.solarmargin.core.estimator.State.GUST;
import static org.solarmargin.core.estimator.State.IDEALITY;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.PROPULSION;
import static org.solarmargin.core.estimator.State.SERIES;
import static org.solarmargin.core.estimator.State.SIZE;
import static org.solarmargin.core.estimator.State.VOLTAGE_GAIN;
import static org.solarmargin.core.estimator.State.WINDING;

import java.util.Random;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.rotor.RotorLoad;

/**
 * The probabilistic model that the filter assumes for calm flight, in plain form: the random
 * transition of a state, and its measurement. It is used to draw flights, to propagate particles,
 * and for the linearisation of the Cramer-Rao bound.
 */
final class FilterModel {

  private final EstimatorSettings settings;
  private final Prior prior;
  private final SolarArray array;
  private final OperatingPoint point;
  private final PowerPeak peak;
  private final double step;
  private final double airExcess;

  FilterModel(EstimatorSettings settings, double step) {
    this(settings, step, 0);
  }

  /**
   * Creates a model.
   *
   * @param airExcess sigma of the air temperature beyond that of weather, K
   */
  FilterModel(EstimatorSettings settings, double step, double airExcess) {
    this.settings = settings;
    this.step = step;
    this.airExcess = airExcess;
    prior = new Prior(settings);
    array = settings.newArray();
    point = new OperatingPoint(array, settings.rotor().housekeepingWatts());
    peak = new PowerPeak(array);
  }

  Prior prior() {
    return prior;
  }

  /** Solves the operating point at a state, which the point and peak methods then return. */
  void solve(double[] x, double throttle) {
    moveCurve(x);
    point.solve(x, throttle);
  }

  private void moveCurve(double[] x) {
    array
        .curve()
        .setAltered(
            Math.exp(x[LIGHT]),
            x[CELL],
            Math.exp(x[SERIES]),
            Math.exp(x[IDEALITY]),
            x[State.VOC_COEFF]);
  }

  double volts() {
    return point.volts();
  }

  double amps() {
    return point.amps();
  }

  /** Rows of the measurement Jacobian at the solved point: voltage, current. */
  double[][] rows(double[] x, double throttle) {
    point.differentiate(x, throttle, 0, 0);
    return new double[][] {point.voltageJacobian().clone(), point.currentJacobian().clone()};
  }

  /** Solves for the available power at a state, W. */
  double available(double[] x) {
    moveCurve(x);
    peak.solve();
    return peak.watts();
  }

  double peakVolts() {
    return peak.volts();
  }

  double[] peakGradient() {
    return gradient(peak);
  }

  /** A peak's gradient with respect to all states. */
  static double[] gradient(PowerPeak peak) {
    double[] all = new double[SIZE];
    for (int i = 0; i < PowerPeak.STATES.length; i++) {
      all[PowerPeak.STATES[i]] = peak.gradient()[i];
    }
    return all;
  }

  double voltsSd() {
    double noise = settings.sensors().voltageNoiseVolts();
    return Math.hypot(noise, Measurement.MODEL_VOLTS);
  }

  double ampsSd() {
    return settings.sensors().currentNoiseAmps();
  }

  /** The voltage reading without noise at the solved point. */
  double voltsReading(double[] x) {
    return (1 + x[VOLTAGE_GAIN]) * point.volts();
  }

  double ampsReading(double[] x) {
    return (1 + x[CURRENT_GAIN]) * point.amps() + x[CURRENT_OFFSET];
  }

  /** Propagates a state without noise; {@code volts} and {@code throttle} are the last ones. */
  void move(double[] x, double volts, double throttle) {
    double steady = steadyEmf(x, volts, throttle);
    x[EMF] = steady + (x[EMF] - steady) * keep(Transition.MOTOR_SECONDS);
    x[GUST] *= keep(Transition.GUST_SECONDS);
    double target =
        settings.thermal().ambientCelsius()
            + x[AIR]
            + settings.thermal().sunRiseKelvin() * Math.exp(x[LIGHT]);
    x[CELL] = target + (x[CELL] - target) * keep(settings.thermal().timeConstantSeconds());
    x[AIR] *= keep(Transition.AIR_SECONDS);
    double home = prior.logWinding();
    x[WINDING] = home + (x[WINDING] - home) * keep(Transition.WINDING_MEMORY_SECONDS);
  }

  /** Sigmas of the noise that a step adds to each state. */
  double[] noise(double[] x, double volts, double throttle, double lightDrift, double gustShare) {
    double root = Math.sqrt(step);
    double[] sd = new double[SIZE];
    sd[EMF] = Transition.EMF_DRIFT * Math.max(steadyEmf(x, volts, throttle), 0.5) * root;
    sd[GUST] = gustShare * Prior.GUST_LOG_SD * fresh(Transition.GUST_SECONDS);
    sd[CELL] = Transition.cellDrift(airExcess) * root;
    sd[AIR] = (Prior.airSd(true) + airExcess) * fresh(Transition.AIR_SECONDS);
    sd[WINDING] = Prior.WINDING_LOG_SD * fresh(Transition.WINDING_MEMORY_SECONDS);
    sd[PROPULSION] = Transition.PROPULSION_DRIFT * root;
    sd[LIGHT] = lightDrift * root;
    return sd;
  }

  /** Jacobian of {@link #move} by central differences, the bus voltage following the state. */
  double[][] jacobian(double[] x, double throttle) {
    double[][] f = new double[SIZE][SIZE];
    for (int j = 0; j < SIZE; j++) {
      double h = 1e-5 * Math.max(1, Math.abs(x[j]));
      double[] up = moved(x, j, h, throttle);
      double[] down = moved(x, j, -h, throttle);
      for (int i = 0; i < SIZE; i++) {
        f[i][j] = (up[i] - down[i]) / (2 * h);
      }
    }
    solve(x, throttle);
    return f;
  }

  private double[] moved(double[] x, int j, double by, double throttle) {
    double[] y = x.clone();
    y[j] += by;
    solve(y, throttle);
    move(y, point.volts(), throttle);
    return y;
  }

  /** A draw from the prior, with the rotors in steady state at the throttle. */
  double[] draw(Random random, double lightLogSd, double throttle) {
    double[] x = new double[SIZE];
    Covariance p = new Covariance();
    prior.fill(x, p);
    x[LIGHT] += lightLogSd * random.nextGaussian();
    x[AIR] = Prior.initialAirSd(true) * random.nextGaussian();
    x[CELL] =
        settings.thermal().ambientCelsius()
            + x[AIR]
            + settings.thermal().sunRiseKelvin() * Math.exp(x[LIGHT])
            + 2 * random.nextGaussian();
    for (int j : new int[] {GUST, PROPULSION, WINDING}) {
      x[j] += Math.sqrt(p.get(j, j)) * random.nextGaussian();
    }
    for (int j = State.ESTIMATED; j < SIZE; j++) {
      x[j] = Math.sqrt(p.get(j, j)) * random.nextGaussian();
    }
    x[EMF] = steadyEmf(x, settings.rotor().hoverBusVolts(), throttle);
    return x;
  }

  private static double steadyEmf(double[] x, double volts, double throttle) {
    return RotorLoad.steadyBackEmf(
        throttle * volts, Math.exp(x[WINDING]), Math.exp(x[PROPULSION] + x[GUST]));
  }

  private double keep(double seconds) {
    return Math.exp(-step / seconds);
  }

  private double fresh(double seconds) {
    return Math.sqrt(1 - keep(seconds) * keep(seconds));
  }
}
