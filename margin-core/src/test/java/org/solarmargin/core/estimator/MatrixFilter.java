package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.AIR;
import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.CURRENT_GAIN;
import static org.solarmargin.core.estimator.State.CURRENT_OFFSET;
import static org.solarmargin.core.estimator.State.EMF;
import static org.solarmargin.core.estimator.State.ESTIMATED;
import static org.solarmargin.core.estimator.State.GUST;
import static org.solarmargin.core.estimator.State.IDEALITY;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.PROPULSION;
import static org.solarmargin.core.estimator.State.SERIES;
import static org.solarmargin.core.estimator.State.SIZE;
import static org.solarmargin.core.estimator.State.VOLTAGE_GAIN;
import static org.solarmargin.core.estimator.State.WINDING;

import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.rotor.RotorLoad;

/**
 * The filter for calm air and logs without gaps in textbook form, with a general matrix library:
 * {@code P = F P F' + Q}, {@code K = P H' S^-1} with the rows of the constants multiplied by their
 * fraction, {@code P = (1 - K H) P (1 - K H)' + K R K'}. It is the reference for the scalar form
 * and its baseline in the benchmark.
 */
public final class MatrixFilter {

  private static final int PASSES = 4;
  private static final double CONVERGED = 0.02;

  private final EstimatorSettings settings;
  private final Prior prior;
  private final SolarArray array;
  private final OperatingPoint point;
  private final PowerPeak peak;
  private final EdgeDetector edge = new EdgeDetector();
  private final CoolingWatch cooling = new CoolingWatch();
  private final RealVector x = new ArrayRealVector(SIZE);
  private RealMatrix p;
  private final RealMatrix r;
  private double emfNoise = 1;
  private double lastThrottle = Double.NaN;
  private double instrumentLight;
  private double instrumentEmf;
  private double airborneSeconds;
  private double logSd;

  /**
   * Creates a filter that has received no sample.
   *
   * @param settings settings of the craft
   */
  public MatrixFilter(EstimatorSettings settings) {
    this.settings = settings;
    prior = new Prior(settings);
    array = settings.newArray();
    point = new OperatingPoint(array, settings.rotor().housekeepingWatts());
    peak = new PowerPeak(array);
    double volts = settings.sensors().voltageNoiseVolts();
    double amps = settings.sensors().currentNoiseAmps();
    double model = Measurement.MODEL_VOLTS;
    r =
        MatrixUtils.createRealDiagonalMatrix(
            new double[] {volts * volts + model * model, amps * amps});
    double[] first = new double[SIZE];
    Covariance filled = new Covariance();
    prior.fill(first, filled);
    x.setSubVector(0, MatrixUtils.createRealVector(first));
    p = MatrixUtils.createRealMatrix(SIZE, SIZE);
    for (int i = 0; i < SIZE; i++) {
      for (int j = 0; j < SIZE; j++) {
        p.setEntry(i, j, filled.get(i, j));
      }
    }
  }

  /**
   * Processes a sample.
   *
   * @param seconds time since the last sample, s
   * @param volts V
   * @param amps A
   * @param throttle 0 to 1
   * @return available power, W
   */
  public double update(double seconds, double volts, double amps, double throttle) {
    if (Double.isNaN(lastThrottle)) {
      x.setEntry(EMF, steadyEmf(throttle * volts, 0));
      followInstruments();
    } else {
      predict(seconds);
    }
    correct(seconds, volts, amps, throttle);
    lastThrottle = throttle;
    peak.solve();
    RealVector gradient = MatrixUtils.createRealVector(FilterModel.gradient(peak));
    logSd = Math.sqrt(gradient.dotProduct(p.operate(gradient)));
    return peak.watts();
  }

  double logSd() {
    return logSd;
  }

  double state(int i) {
    return x.getEntry(i);
  }

  double covariance(int i, int j) {
    return p.getEntry(i, j);
  }

  double lightDrift() {
    return edge.lightDrift();
  }

  private void predict(double seconds) {
    RealMatrix f = MatrixUtils.createRealIdentityMatrix(SIZE);
    double[] q = new double[SIZE];
    double steady = steadyEmf(lastThrottle * point.volts(), x.getEntry(GUST));
    double propulsion = Math.exp(x.getEntry(PROPULSION) + x.getEntry(GUST));
    double copper = Math.exp(x.getEntry(WINDING)) * propulsion * steady;
    double keep = Math.exp(-seconds / Transition.MOTOR_SECONDS);
    double perVolt = (1 - keep) * lastThrottle / (1 + 2 * copper);
    double perLog = -(1 - keep) * copper * steady / (1 + 2 * copper);
    RealVector row = MatrixUtils.createRealVector(point.voltageJacobian()).mapMultiply(perVolt);
    row.setEntry(VOLTAGE_GAIN, 0);
    row.addToEntry(EMF, keep);
    row.setEntry(GUST, perLog);
    row.setEntry(PROPULSION, perLog);
    row.addToEntry(WINDING, perLog);
    f.setRowVector(EMF, row);
    double emfSd = Transition.EMF_DRIFT * emfNoise * Math.max(steady, 0.5);
    q[EMF] = emfSd * emfSd * seconds;

    double rise = settings.thermal().sunRiseKelvin() * Math.exp(x.getEntry(LIGHT));
    double cellKeep = Math.exp(-seconds / settings.thermal().timeConstantSeconds());
    double target = settings.thermal().ambientCelsius() + x.getEntry(AIR) + rise;
    f.setEntry(CELL, CELL, cellKeep);
    f.setEntry(CELL, LIGHT, (1 - cellKeep) * rise);
    f.setEntry(CELL, AIR, 1 - cellKeep);
    cooling.follow(seconds, x.getEntry(AIR));
    double excess = cooling.excessKelvin();
    q[CELL] = Transition.cellDrift(excess) * Transition.cellDrift(excess) * seconds;
    q[LIGHT] = edge.lightDrift() * edge.lightDrift() * seconds;
    q[PROPULSION] = Transition.PROPULSION_DRIFT * Transition.PROPULSION_DRIFT * seconds;

    double pull = seconds / Instruments.SECONDS;
    double rate = edge.lightDrift() / EdgeDetector.CALM_LIGHT_DRIFT;
    instrumentLight += Math.min(pull * rate * rate, 1) * (x.getEntry(LIGHT) - instrumentLight);
    instrumentEmf += pull * (x.getEntry(EMF) - instrumentEmf);
    instrumentEmf = steady + (instrumentEmf - steady) * keep;
    x.setEntry(EMF, steady + (x.getEntry(EMF) - steady) * keep);
    x.setEntry(CELL, target + (x.getEntry(CELL) - target) * cellKeep);
    relax(f, q, GUST, 0, Transition.GUST_SECONDS, Prior.GUST_LOG_SD, seconds);
    relax(f, q, AIR, 0, Transition.AIR_SECONDS, Prior.airSd(true) + excess, seconds);
    double memory = Transition.WINDING_MEMORY_SECONDS;
    relax(f, q, WINDING, prior.logWinding(), memory, Prior.WINDING_LOG_SD, seconds);
    for (int j = ESTIMATED; j < SIZE; j++) {
      double stated = prior.constantSd(j) * prior.constantSd(j);
      q[j] =
          Math.min(
              2 * stated * seconds / Transition.CONSTANT_SECONDS,
              Math.max(stated - p.getEntry(j, j), 0));
    }
    p = f.multiply(p).multiplyTransposed(f).add(MatrixUtils.createRealDiagonalMatrix(q));
  }

  private void relax(
      RealMatrix f, double[] q, int state, double home, double memory, double sd, double seconds) {
    double keep = Math.exp(-seconds / memory);
    x.setEntry(state, home + (x.getEntry(state) - home) * keep);
    f.setEntry(state, state, keep);
    q[state] = sd * sd * (1 - keep * keep);
  }

  private void correct(double seconds, double volts, double amps, double throttle) {
    RealVector predicted = x.copy();
    RealMatrix h = null;
    RealMatrix gain = null;
    boolean far = true;
    for (int pass = 0; far && pass < PASSES; pass++) {
      RealVector before = x.copy();
      moveCurve();
      point.solve(x.toArray(), throttle);
      double lightShift = instrumentLight - x.getEntry(LIGHT);
      double emfShift = instrumentEmf - x.getEntry(EMF);
      point.differentiate(x.toArray(), throttle, lightShift, emfShift);
      h =
          MatrixUtils.createRealMatrix(
              new double[][] {point.voltageJacobian(), point.currentJacobian()});
      RealVector reading = MatrixUtils.createRealVector(new double[] {volts, amps});
      RealVector y = reading.subtract(expected()).subtract(h.operate(predicted.subtract(x)));
      RealMatrix ph = p.multiplyTransposed(h);
      RealMatrix s = h.multiply(ph).add(r);
      if (pass == 0) {
        follow(seconds, y, s);
      }
      gain = partly(ph.multiply(MatrixUtils.inverse(s)));
      x.setSubVector(0, predicted.add(gain.operate(y)));
      double light = before.getEntry(LIGHT);
      x.setEntry(LIGHT, Math.min(Math.max(x.getEntry(LIGHT), light - 0.7), light + 0.7));
      double emf = before.getEntry(EMF);
      x.setEntry(EMF, Math.max(x.getEntry(EMF), 0));
      far =
          Math.abs(x.getEntry(LIGHT) - light) + Math.abs(x.getEntry(EMF) - emf) / (emf + 1)
              > CONVERGED;
      if (far || pass > 0) {
        followInstruments();
      }
    }
    RealMatrix left = MatrixUtils.createRealIdentityMatrix(SIZE).subtract(gain.multiply(h));
    p = left.multiply(p).multiplyTransposed(left).add(gain.multiply(r).multiplyTransposed(gain));
    moveCurve();
    point.solve(x.toArray(), throttle);
    airborneSeconds = Double.isNaN(lastThrottle) ? 0 : airborneSeconds + seconds;
  }

  /**
   * The gain with the constants' rows multiplied by their fraction, or by 0 before they are
   * updated.
   */
  private RealMatrix partly(RealMatrix gain) {
    boolean learns =
        airborneSeconds > HiddenStateFilter.SETTLED_SECONDS
            && edge.lightDrift() <= HiddenStateFilter.LEARN_LIGHT_DRIFT;
    double part = learns ? HiddenStateFilter.LEARNED_PART : 0;
    for (int j = ESTIMATED; j < SIZE; j++) {
      gain.setRowVector(j, gain.getRowVector(j).mapMultiply(part));
    }
    return gain;
  }

  private void followInstruments() {
    instrumentLight = x.getEntry(LIGHT);
    instrumentEmf = x.getEntry(EMF);
  }

  private void moveCurve() {
    array
        .curve()
        .setAltered(
            Math.exp(x.getEntry(LIGHT)),
            x.getEntry(CELL),
            Math.exp(x.getEntry(SERIES)),
            Math.exp(x.getEntry(IDEALITY)),
            x.getEntry(State.VOC_COEFF));
  }

  private RealVector expected() {
    return MatrixUtils.createRealVector(
        new double[] {
          (1 + x.getEntry(VOLTAGE_GAIN)) * point.volts(),
          (1 + x.getEntry(CURRENT_GAIN)) * point.amps() + x.getEntry(CURRENT_OFFSET)
        });
  }

  private void follow(double seconds, RealVector y, RealMatrix s) {
    double share = s.getEntry(0, 1) / s.getEntry(1, 1);
    double conditional = y.getEntry(0) - share * y.getEntry(1);
    edge.follow(seconds, conditional / Math.sqrt(s.getEntry(0, 0) - share * s.getEntry(0, 1)));
    double normAmps = Math.min(y.getEntry(1) * y.getEntry(1) / s.getEntry(1, 1), 9);
    emfNoise *= Math.exp(0.5 * Math.min(seconds, 0.1) * (normAmps - 1));
    emfNoise = Math.min(Math.max(emfNoise, 1), 10);
  }

  private double steadyEmf(double windingVolts, double gust) {
    return RotorLoad.steadyBackEmf(
        windingVolts, Math.exp(x.getEntry(WINDING)), Math.exp(x.getEntry(PROPULSION) + gust));
  }
}
