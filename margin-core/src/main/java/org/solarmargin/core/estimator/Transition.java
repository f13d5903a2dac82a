package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.AIR;
import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.EMF;
import static org.solarmargin.core.estimator.State.ESTIMATED;
import static org.solarmargin.core.estimator.State.GUST;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.PROPULSION;
import static org.solarmargin.core.estimator.State.UNFILTERED;
import static org.solarmargin.core.estimator.State.VOLTAGE_GAIN;
import static org.solarmargin.core.estimator.State.WINDING;

import java.util.Arrays;
import org.solarmargin.core.lag.FirstOrderLag;
import org.solarmargin.core.rotor.RotorLoad;
import org.solarmargin.core.state.StateBytes;

/**
 * Propagates state and covariance from one instant to the next: the rotors relax to the steady
 * speed of the held throttle, the cells to the air temperature plus the rise due to the sun; light
 * and propulsion constant follow random walks; the winding resistance relaxes to its prior; and the
 * variances of the constants slowly return to their stated values. Constants without a source are
 * engineering judgement, not tuned.
 */
final class Transition {

  /** Correlation time of wind over the cells, s: common practice, no source. */
  static final double AIR_SECONDS = 100;

  private static final double GROUND_AIR_SECONDS = 20;
  static final double WINDING_MEMORY_SECONDS = AIR_SECONDS;
  static final double PROPULSION_DRIFT = 0.01;
  static final double GUST_SECONDS = 0.6;

  /** Lag of motor and propeller (0.05 to 0.2 s): common practice, no source. */
  static final double MOTOR_SECONDS = 0.12;

  /**
   * Process noise of the back-EMF, relative, 1 over root second. A much smaller value would match
   * the innovations better but slow the estimate: the model's errors are correlated, and the filter
   * would attribute them to the slope of the curve.
   */
  static final double EMF_DRIFT = 0.03;

  /** Process noise of the cell temperature, K per root second. */
  private static final double CELL_DRIFT = 0.04;

  /**
   * Increase of the process noise of the cell temperature with the excess of the air temperature's
   * sigma, 1 per root second: gusts shorter than the cells' time constant move the air temperature
   * faster than its correlation time allows. Chosen on simulated flights in cooling wind.
   */
  private static final double CELL_DRIFT_PER_EXCESS = 0.14;

  /** Sigma of the light's logarithm for each second of a gap in the log. */
  static final double GAP_LIGHT_RATE = 0.1;

  /** A longer interval between samples is a gap, s. */
  static final double GAP_SECONDS = 0.4;

  /** The course of the throttle between commands further apart than this is not known, s. */
  static final double UNKNOWN_COURSE_SECONDS = 0.06;

  /** Largest variance added to the light's logarithm at once. */
  static final double LIGHT_JUMP_VARIANCE = 0.25;

  /** Time scale on which the variances of the constants return to their stated values, s. */
  static final double CONSTANT_SECONDS = 1000;

  private static final double EMF_FLOOR_VOLTS = 0.5;
  private static final double LONGEST_EMF_STEP = 0.3;
  private static final double LONGEST_CELL_STEP = 600;
  private static final double LONGEST_PROPULSION_STEP = 60;

  private final EstimatorSettings.Thermal thermal;
  private final Prior prior;
  private final OperatingPoint point;
  private final Instruments instruments;
  private final FirstOrderLag motorLag = new FirstOrderLag(MOTOR_SECONDS);
  private final FirstOrderLag gustMemory = new FirstOrderLag(GUST_SECONDS);
  private final FirstOrderLag slowMemory = new FirstOrderLag(AIR_SECONDS);
  private final FirstOrderLag thermalLag;
  private final CoolingWatch cooling = new CoolingWatch();

  Transition(
      EstimatorSettings settings, Prior prior, OperatingPoint point, Instruments instruments) {
    this.thermal = settings.thermal();
    this.prior = prior;
    this.point = point;
    this.instruments = instruments;
    this.thermalLag = new FirstOrderLag(thermal.timeConstantSeconds());
  }

  void reset() {
    cooling.reset();
  }

  /**
   * Back-EMF relaxes to its steady value under the present gust; the gust decays to its mean.
   *
   * @param emfNoise factor on the process noise of the back-EMF, 1 or more
   * @param edge process noise of the light over its calm value, 1 or more
   */
  void moveRotor(
      double[] x, Covariance p, double seconds, double throttle, double emfNoise, double edge) {
    double propulsion = Math.exp(x[PROPULSION] + x[GUST]);
    double ohms = point.ohms(x);
    double steady = RotorLoad.steadyBackEmf(throttle * point.volts(), ohms, propulsion);
    double copper = ohms * propulsion * steady;
    double keep = motorLag.keep(seconds);
    double perLog = -(1 - keep) * copper * steady / (1 + 2 * copper);
    instruments.relax(x, seconds, edge, steady, keep);
    x[EMF] = steady + (x[EMF] - steady) * keep;
    // the steady back-EMF follows the bus voltage, which follows every state of the operating point
    double perVolt = (1 - keep) * throttle / (1 + 2 * copper);
    double[] volts = point.voltageJacobian();
    double[] f = clearForm(p);
    for (int j = 0; j < UNFILTERED; j++) {
      f[j] = perVolt * volts[j];
    }
    f[VOLTAGE_GAIN] = 0;
    f[EMF] += keep;
    f[GUST] = perLog;
    f[PROPULSION] = perLog;
    f[WINDING] += perLog;
    p.transformRow(EMF, f);
    double emfSd = EMF_DRIFT * emfNoise * Math.max(steady, EMF_FLOOR_VOLTS);
    p.addVariance(EMF, emfSd * emfSd * Math.min(seconds, LONGEST_EMF_STEP));
    relax(x, p, GUST, gustMemory.keep(seconds), Prior.GUST_LOG_SD);
  }

  /**
   * Adds the uncertainty of the back-EMF between commands that are far apart, because the throttle
   * may have changed at any instant between them.
   */
  void addSparseNoise(Covariance p, double seconds, double move) {
    double sd = (1 - motorLag.keep(seconds)) * move * point.volts();
    p.addVariance(EMF, sd * sd);
  }

  /** Cells relax to the air temperature plus the rise due to the sun. */
  void moveCells(double[] x, Covariance p, double seconds, double suns, boolean airborne) {
    double keep = thermalLag.keep(seconds);
    double rise = thermal.sunRiseKelvin() * suns;
    double target = thermal.ambientCelsius() + x[AIR] + rise;
    x[CELL] = target + (x[CELL] - target) * keep;
    double[] f = clearForm(p);
    f[CELL] = keep;
    f[LIGHT] = (1 - keep) * rise;
    f[AIR] = 1 - keep;
    p.transformRow(CELL, f);
    double excess = 0;
    if (airborne) {
      cooling.follow(seconds, x[AIR]);
      excess = cooling.excessKelvin();
    } else {
      cooling.reset();
    }
    double drift = cellDrift(excess);
    p.addVariance(CELL, drift * drift * Math.min(seconds, LONGEST_CELL_STEP));
    double airKeep = airborne ? slowMemory.keep(seconds) : Math.exp(-seconds / GROUND_AIR_SECONDS);
    relax(x, p, AIR, airKeep, Prior.airSd(airborne) + excess);
  }

  /**
   * Process noise of light, propulsion constant, winding resistance and constants.
   *
   * @param lightDrift process noise of the light's logarithm, 1 over root second
   * @param lightJump variance that a gap in the log adds to the light's logarithm
   */
  void addProcessNoise(
      double[] x, Covariance p, double seconds, double lightDrift, double lightJump) {
    double lightVariance = lightDrift * lightDrift * seconds + lightJump;
    p.addVariance(LIGHT, Math.min(lightVariance, LIGHT_JUMP_VARIANCE));
    p.addVariance(
        PROPULSION,
        PROPULSION_DRIFT * PROPULSION_DRIFT * Math.min(seconds, LONGEST_PROPULSION_STEP));
    double keep = slowMemory.keep(seconds);
    x[WINDING] = prior.logWinding() + (x[WINDING] - prior.logWinding()) * keep;
    p.scale(WINDING, keep);
    p.addVariance(WINDING, (1 - keep * keep) * Prior.WINDING_LOG_SD * Prior.WINDING_LOG_SD);
    double forgotten = 2 * seconds / CONSTANT_SECONDS;
    for (int j = ESTIMATED; j < UNFILTERED; j++) {
      double stated = prior.constantSd(j) * prior.constantSd(j);
      double reduction = Math.max(stated - p.get(j, j), 0);
      p.addVariance(j, Math.min(forgotten * stated, reduction));
    }
  }

  /**
   * Process noise of the cell temperature, K per root second.
   *
   * @param excess of the air temperature's sigma over that of weather, K
   */
  static double cellDrift(double excess) {
    return CELL_DRIFT + CELL_DRIFT_PER_EXCESS * excess;
  }

  /** Number of sigmas by which the estimate is biased low in a wind that cools the cells. */
  double coolingBiasSigmas() {
    return cooling.biasSigmas();
  }

  void write(StateBytes out) {
    cooling.write(out);
  }

  void read(StateBytes in) {
    cooling.read(in);
  }

  private static double[] clearForm(Covariance p) {
    Arrays.fill(p.form(), 0);
    return p.form();
  }

  /** One step of an Ornstein-Uhlenbeck process with mean 0. */
  private static void relax(double[] x, Covariance p, int state, double keep, double sd) {
    x[state] *= keep;
    p.scale(state, keep);
    p.addVariance(state, sd * sd * (1 - keep * keep));
  }
}
