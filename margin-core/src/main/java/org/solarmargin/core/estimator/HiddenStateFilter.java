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

import java.util.Arrays;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.lag.Decay;
import org.solarmargin.core.rotor.RotorLoad;

/**
 * Iterated extended Kalman filter (Bell and Cathey, IEEE Trans. Automatic Control 38, 1993) over
 * the states of {@link State}. The constants of cells and sensors are learned with a part of the
 * gain that an ordinary filter would give them (partial update: K. M. Brink, J. Guidance, Control,
 * and Dynamics 40(9), 2017, of which Schmidt's form of 1966 is the part 0), for the model's own
 * errors are not noise, and a filter that trusts it wholly takes them for constants.
 *
 * <p>Light, cell temperature and true current are hidden. Voltage and current are readings of the
 * operating point; throttle is a known cause of it, through the rotors' speed. Taking the measured
 * current as exact instead would flatten the slope seen and report far too much power.
 *
 * <p>The rows are taken where lagged light and back-EMF put the operating point, not at the newest
 * estimate: that one carries noise which the innovation carries too, and their product does not
 * average out, so that everything slow would drift (instrumental variables: P. Young, Automatica 6,
 * 1970; here the instruments are what the throttle says, and the light of the last second).
 *
 * <p>Calm and edge are told apart by the voltage's innovation once the current's is taken out: when
 * it keeps one sign the light's process noise rises at once, and decays after.
 */
final class HiddenStateFilter {

  /** How long a wind or a draught over the cells lasts, s: common practice, no source. */
  static final double AIR_SECONDS = 100;

  private static final double GROUND_AIR_SECONDS = 20;

  static final double WINDING_MEMORY_SECONDS = AIR_SECONDS;
  static final double PROPULSION_DRIFT = 0.01;

  static final double GUST_SECONDS = 0.6;

  /** Lag of motor and propeller (0.05 to 0.2 s): common practice, no source. */
  static final double MOTOR_SECONDS = 0.12;

  /**
   * What the motor model leaves, relative back-EMF per root second. Much smaller fits better on
   * paper and drags the estimate: the model's errors last, and the filter would take them for
   * slope.
   */
  static final double EMF_DRIFT = 0.03;

  /** Cell temperature beside the lag model, K per root second. */
  static final double CELL_DRIFT = 0.04;

  /** Light may wander this much per second of a gap in the log. */
  private static final double GAP_LIGHT_RATE = 0.1;

  private static final double GAP_SECONDS = 0.4;

  /**
   * Squared innovation over its variance: above JUMP the model gives way; above HOLD wait a sample.
   */
  private static final double JUMP = 9;

  private static final double HOLD = 30;
  private static final double LIGHT_JUMP_VARIANCE = 0.25;

  /**
   * So large a move of the light's logarithm in one sample is a leap, whatever the readings: rows
   * taken at its end know nothing of where it began, and a spin-up on cells cooler than expected
   * would leave the filter sure of light and temperature that are both wrong.
   */
  private static final double LIGHT_LEAP = 0.2;

  /** Sigma of the light after a leap while the rotors come up to speed, as a part of the leap. */
  private static final double SPIN_UP_DOUBT = 0.5;

  /**
   * A thermometer's error stays; a sigma of 2 K is spread so that a second of readings counts once.
   */
  private static final double THERMOMETER_VARIANCE = 4;

  private static final double THERMOMETER_SECONDS = 2;
  static final double MODEL_VOLTS = 1e-3;
  private static final double LIGHT_MIN = Math.log(1e-3);
  private static final double LIGHT_MAX = Math.log(2.2);
  private static final double LIGHT_STEP_MAX = 0.7;

  /**
   * What no leap of a reading can have moved: a sample that the model cannot hold tells of light
   * and rotors alone. Else a spike would leave the filter in bright and hot, which explains every
   * later sample too.
   */
  private static final int[] SLOW = {CELL, PROPULSION, WINDING, AIR};

  /** Part of the full gain with which constants are learned. */
  static final double LEARNED_PART = 0.3;

  /** What that takes from their variance. */
  static final double LEARNED_SHARE = 1 - (1 - LEARNED_PART) * (1 - LEARNED_PART);

  /** Rotors have come up to speed, and constants are learned, after so long in the air, s. */
  static final double SETTLED_SECONDS = 3;

  static final double LEARN_LIGHT_DRIFT = 1.5 * EdgeDetector.CALM_LIGHT_DRIFT;

  /** How long what was learned stays as sure as it was, s. */
  static final double CONSTANT_SECONDS = 1000;

  /** Lag of the instruments, s; shorter at an edge, where the light's noise is small beside it. */
  static final double INSTRUMENT_SECONDS = 1;

  /** Constants stay within so many of their stated sigmas. */
  private static final double CONSTANT_REACH = 5;

  private static final double LOG_REACH = 2.5;
  private static final double AIR_REACH = 60;
  private static final double CELL_MIN = -50;
  private static final double CELL_MAX = 130;
  private static final double ROUNDING = 1e-9;
  private static final double SINGLE_PRECISION = 1e-5;
  private static final int ITERATIONS = 4;
  private static final double CONVERGED = 0.02;

  private final EstimatorSettings settings;
  private final SolarArray array;
  private final OperatingPoint point;
  private final Prior prior;
  private final double highestEmf;

  private final Decay motorLag = new Decay(MOTOR_SECONDS);
  private final Decay gustMemory = new Decay(GUST_SECONDS);
  private final Decay slowMemory = new Decay(AIR_SECONDS);
  private final EdgeDetector edge = new EdgeDetector();
  private final Decay thermalLag;

  private final double[] x = new double[SIZE];
  private final double[] predicted = new double[SIZE];
  private final Covariance p = new Covariance();
  private final double[] phVolts = new double[SIZE];

  /** A row of the transition, in memory that is free between corrections. */
  private final double[] f = phVolts;

  private final double[] phAmps = new double[SIZE];
  private double varianceVolts;
  private double covariance;
  private double varianceAmps;
  private final Exponential suns = new Exponential();
  private final Exponential seriesFactor = new Exponential();
  private final Exponential idealityFactor = new Exponential();
  private double instrumentLight;
  private double instrumentEmf;
  private double lastThrottle;
  private boolean airborne;
  private boolean settled;
  private double elapsed;
  private double emfNoise;
  private boolean leaps;
  private double normalisedInnovation;

  HiddenStateFilter(EstimatorSettings settings, SolarArray array) {
    this.settings = settings;
    this.thermalLag = new Decay(settings.thermal().timeConstantSeconds());
    this.array = array;
    this.point = new OperatingPoint(array, settings.rotor().housekeepingWatts());
    prior = new Prior(settings);
    array.set(Math.exp(LIGHT_MAX), CELL_MIN);
    highestEmf = array.openCircuitVolts();
    reset();
  }

  void reset() {
    prior.fill(x, p);
    point.reset();
    lastThrottle = Double.NaN;
    airborne = true;
    settled = false;
    elapsed = 0;
    edge.reset();
    suns.forget();
    seriesFactor.forget();
    idealityFactor.forget();
    emfNoise = 1;
    normalisedInnovation = 2;
    moveCurve();
  }

  /** First sample: the rotors are taken as settled at this throttle, with a wide doubt. */
  void start(double busVolts, double throttle) {
    x[EMF] =
        RotorLoad.steadyBackEmf(throttle * busVolts, Math.exp(x[WINDING]), Math.exp(x[PROPULSION]));
    lastThrottle = throttle;
    followInstruments();
    point.solve(x, throttle);
  }

  /** Carries the state over {@code seconds} to the time of the next sample. */
  void predict(double seconds, double throttle) {
    boolean gap = seconds > GAP_SECONDS;
    predictRotor(seconds, gap ? 0.5 * (lastThrottle + throttle) : lastThrottle);
    predictCell(seconds);
    double rate = edge.lightDrift();
    double jump = gap ? square(GAP_LIGHT_RATE * seconds) : 0;
    p.addVariance(LIGHT, Math.min(rate * rate * seconds + jump, LIGHT_JUMP_VARIANCE));
    p.addVariance(PROPULSION, square(PROPULSION_DRIFT) * Math.min(seconds, 60));
    double keep = slowMemory.keep(seconds);
    x[WINDING] = prior.logWinding() + (x[WINDING] - prior.logWinding()) * keep;
    p.scale(WINDING, keep);
    p.addVariance(WINDING, (1 - keep * keep) * square(Prior.WINDING_LOG_SD));
    double forgotten = 2 * seconds / CONSTANT_SECONDS;
    for (int j = ESTIMATED; j < SIZE; j++) {
      double stated = square(prior.constantSd(j));
      double room = Math.max(stated - p.get(j, j), 0);
      p.addVariance(j, Math.min(forgotten * stated, room));
    }
    lastThrottle = throttle;
    elapsed = seconds;
  }

  /** The rotors take or leave the craft: what the air over the cells was is forgotten. */
  void setAirborne(boolean flies, double forSeconds) {
    settled = flies && forSeconds > SETTLED_SECONDS;
    if (flies == airborne) {
      return;
    }
    airborne = flies;
    x[AIR] = 0;
    p.scale(AIR, 0);
    p.addVariance(AIR, square(Prior.airSd(flies)));
  }

  /** Carries the state on where no sample corrects it. */
  void coast(double seconds, double throttle) {
    predict(seconds, throttle);
    double jump = Math.min(square(GAP_LIGHT_RATE) * seconds, LIGHT_JUMP_VARIANCE);
    p.addVariance(LIGHT, jump);
    moveCurve();
  }

  /** Back-EMF relaxes to its steady value in the present air; the gust decays to its mean. */
  private void predictRotor(double seconds, double throttle) {
    double propulsion = Math.exp(x[PROPULSION] + x[GUST]);
    double ohms = point.ohms(x);
    double steady = RotorLoad.steadyBackEmf(throttle * point.volts(), ohms, propulsion);
    double copper = ohms * propulsion * steady;
    double keep = motorLag.keep(seconds);
    double perLog = -(1 - keep) * copper * steady / (1 + 2 * copper);
    double calm = EdgeDetector.CALM_LIGHT_DRIFT / edge.lightDrift();
    double pull = Math.min(seconds / INSTRUMENT_SECONDS, 1);
    instrumentLight += Math.min(pull / (calm * calm), 1) * (x[LIGHT] - instrumentLight);
    instrumentEmf += pull * (x[EMF] - instrumentEmf);
    instrumentEmf = steady + (instrumentEmf - steady) * keep;
    x[EMF] = steady + (x[EMF] - steady) * keep;
    // the steady back-EMF follows the bus voltage, which follows every state of the operating point
    double perVolt = (1 - keep) * throttle / (1 + 2 * copper);
    double[] volts = point.voltageRow();
    for (int j = 0; j < SIZE; j++) {
      f[j] = perVolt * volts[j];
    }
    f[VOLTAGE_GAIN] = 0;
    f[EMF] += keep;
    f[GUST] = perLog;
    f[PROPULSION] = perLog;
    f[WINDING] += perLog;
    p.transformRow(EMF, f);
    p.addVariance(
        EMF, square(EMF_DRIFT * emfNoise * Math.max(steady, 0.5)) * Math.min(seconds, 0.3));
    double gustKeep = gustMemory.keep(seconds);
    x[GUST] *= gustKeep;
    p.scale(GUST, gustKeep);
    p.addVariance(GUST, square(Prior.GUST_LOG_SD) * (1 - gustKeep * gustKeep));
  }

  /** Cells relax to air plus sun rise. */
  private void predictCell(double seconds) {
    EstimatorSettings.Thermal thermal = settings.thermal();
    double keep = thermalLag.keep(seconds);
    double rise = thermal.sunRiseKelvin() * suns.value();
    double target = thermal.ambientCelsius() + x[AIR] + rise;
    x[CELL] = target + (x[CELL] - target) * keep;
    Arrays.fill(f, 0);
    f[CELL] = keep;
    f[LIGHT] = (1 - keep) * rise;
    f[AIR] = 1 - keep;
    p.transformRow(CELL, f);
    p.addVariance(CELL, square(CELL_DRIFT) * Math.min(seconds, 600));
    double airKeep = airborne ? slowMemory.keep(seconds) : Math.exp(-seconds / GROUND_AIR_SECONDS);
    double airSd = Prior.airSd(airborne);
    x[AIR] *= airKeep;
    p.scale(AIR, airKeep);
    p.addVariance(AIR, square(airSd) * (1 - airKeep * airKeep));
  }

  /**
   * Corrects by one sample.
   *
   * @param cellCelsius measured cell temperature, NaN if there is none
   * @param mayHold whether a reading far off may be held back, to see if the next one agrees
   * @return false if the reading is held back: nothing was corrected
   */
  boolean correct(
      double busVolts, double busAmps, double throttle, double cellCelsius, boolean mayHold) {
    System.arraycopy(x, 0, predicted, 0, SIZE);
    linearise(throttle);
    double yVolts = voltsInnovation(busVolts);
    double yAmps = ampsInnovation(busAmps);
    double normVolts = yVolts * yVolts / varianceVolts;
    double normAmps = yAmps * yAmps / varianceAmps;
    if (mayHold && (normVolts > HOLD || normAmps > HOLD)) {
      return false;
    }
    follow(yVolts, yAmps, Math.min(normAmps, JUMP));
    double rho = covariance * covariance / (varianceVolts * varianceAmps);
    double cross = 2 * covariance * yVolts * yAmps / (varianceVolts * varianceAmps);
    normalisedInnovation = (normVolts + normAmps - cross) / (1 - rho);
    leaps = normVolts > JUMP || normAmps > JUMP;
    if (leaps) {
      giveWay(yVolts, yAmps, normVolts, normAmps);
    }
    // Gauss-Newton about the newest point; the first pass is the plain extended filter
    boolean far = false;
    for (int i = 1; step(yVolts, yAmps) > CONVERGED && i < ITERATIONS; i++) {
      far = true;
      leaps |= Math.abs(x[LIGHT] - predicted[LIGHT]) > LIGHT_LEAP;
      followInstruments();
      linearise(throttle);
      yVolts = voltsInnovation(busVolts);
      yAmps = ampsInnovation(busAmps);
    }
    double share = covariance / varianceVolts;
    for (int j = 0; j < SIZE; j++) {
      phAmps[j] -= phVolts[j] * share;
    }
    double rest = Math.max(varianceAmps - covariance * share, ROUNDING * varianceAmps);
    p.downdate(phVolts, varianceVolts, phAmps, rest, learns() ? LEARNED_SHARE : 0);
    if (leaps) {
      double doubt = settled ? 0 : SPIN_UP_DOUBT * (x[LIGHT] - predicted[LIGHT]);
      p.addVariance(LIGHT, square(doubt));
      // what was not moved by the sample did not become surer by it
      for (int j : SLOW) {
        p.addVariance(j, square(phVolts[j]) / varianceVolts + square(phAmps[j]) / rest);
      }
    }
    if (!Double.isNaN(cellCelsius)) {
      correctCell(cellCelsius);
    }
    if (far) {
      followInstruments();
    }
    bound();
    moveCurve();
    if (far || !Double.isNaN(cellCelsius)) {
      point.solve(x, throttle);
    } else {
      point.shift(predicted, x);
    }
    return true;
  }

  /** Measurement rows and innovation variances at the present state, prior covariance. */
  private void linearise(double throttle) {
    moveCurve();
    point.solve(x, throttle);
    point.differentiate(x, throttle, instrumentLight - x[LIGHT], instrumentEmf - x[EMF]);
    weigh();
  }

  /** After a leap, and at the start, there is nothing older to go by. */
  private void followInstruments() {
    instrumentLight = x[LIGHT];
    instrumentEmf = x[EMF];
  }

  /** Leaps, gaps and edges tell nothing of what is constant. */
  private boolean learns() {
    return settled && !leaps && elapsed <= GAP_SECONDS && edge.lightDrift() <= LEARN_LIGHT_DRIFT;
  }

  private void weigh() {
    EstimatorSettings.Sensors sensors = settings.sensors();
    p.times(point.voltageRow(), phVolts, point.currentRow(), phAmps);
    varianceVolts =
        dot(point.voltageRow(), phVolts)
            + square(sensors.voltageNoiseVolts())
            + square(MODEL_VOLTS);
    covariance = dot(point.voltageRow(), phAmps);
    varianceAmps = dot(point.currentRow(), phAmps) + square(sensors.currentNoiseAmps());
  }

  private double voltsInnovation(double busVolts) {
    double y = busVolts - (1 + x[VOLTAGE_GAIN]) * point.volts();
    return y - dotDifference(point.voltageRow());
  }

  private double ampsInnovation(double busAmps) {
    double y = busAmps - (1 + x[CURRENT_GAIN]) * point.amps() - x[CURRENT_OFFSET];
    return y - dotDifference(point.currentRow());
  }

  private double dotDifference(double[] row) {
    double sum = 0;
    for (int j = 0; j < SIZE; j++) {
      sum += row[j] * (predicted[j] - x[j]);
    }
    return sum;
  }

  /** A reading that the model cannot hold widens what may have jumped: the light, the rotors. */
  private void giveWay(double yVolts, double yAmps, double normVolts, double normAmps) {
    double perLight = point.voltageRow()[LIGHT];
    if (normVolts > JUMP && perLight != 0) {
      double needed = (yVolts * yVolts - varianceVolts) / (perLight * perLight);
      p.addVariance(LIGHT, Math.min(needed, LIGHT_JUMP_VARIANCE));
    }
    double perEmf = point.currentRow()[EMF];
    if (normAmps > JUMP && perEmf != 0) {
      double needed = (yAmps * yAmps - varianceAmps) / (perEmf * perEmf);
      p.addVariance(EMF, Math.min(needed, square(0.5 * x[EMF] + 1)));
    }
    weigh();
  }

  /** Moves the estimated states; returns how far the point moved. */
  private double step(double yVolts, double yAmps) {
    double product = varianceVolts * varianceAmps;
    double determinant = Math.max(product - covariance * covariance, ROUNDING * product);
    double wVolts = (varianceAmps * yVolts - covariance * yAmps) / determinant;
    double wAmps = (varianceVolts * yAmps - covariance * yVolts) / determinant;
    double light = x[LIGHT];
    double emf = x[EMF];
    for (int j = 0; j < ESTIMATED; j++) {
      x[j] = predicted[j] + phVolts[j] * wVolts + phAmps[j] * wAmps;
    }
    if (learns()) {
      for (int j = ESTIMATED; j < SIZE; j++) {
        x[j] = predicted[j] + LEARNED_PART * (phVolts[j] * wVolts + phAmps[j] * wAmps);
      }
      boundConstants();
    }
    x[LIGHT] = clamp(x[LIGHT], light - LIGHT_STEP_MAX, light + LIGHT_STEP_MAX);
    if (leaps) {
      System.arraycopy(predicted, ESTIMATED, x, ESTIMATED, SIZE - ESTIMATED);
      for (int j : SLOW) {
        x[j] = predicted[j];
      }
    }
    bound();
    return Math.abs(x[LIGHT] - light) + Math.abs(x[EMF] - emf) / (Math.abs(emf) + 1);
  }

  /** Keeps each state where physics has it, whatever was read. */
  private void bound() {
    x[LIGHT] = clamp(x[LIGHT], LIGHT_MIN, LIGHT_MAX);
    x[CELL] = clamp(x[CELL], CELL_MIN, CELL_MAX);
    x[EMF] = clamp(x[EMF], 0, highestEmf);
    x[GUST] = clamp(x[GUST], -1, 1);
    x[PROPULSION] =
        clamp(x[PROPULSION], prior.logPropulsion() - LOG_REACH, prior.logPropulsion() + LOG_REACH);
    x[WINDING] = clamp(x[WINDING], prior.logWinding() - LOG_REACH, prior.logWinding() + LOG_REACH);
    x[AIR] = clamp(x[AIR], -AIR_REACH, AIR_REACH);
  }

  private void boundConstants() {
    for (int j = ESTIMATED; j < SIZE; j++) {
      double reach = CONSTANT_REACH * prior.constantSd(j);
      x[j] = clamp(x[j], -reach, reach);
    }
  }

  /** Whether numbers are numbers and variances are not negative; if not, reset. */
  boolean healthy() {
    boolean healthy = true;
    for (int j = 0; j < SIZE; j++) {
      healthy &= Math.abs(x[j]) < 1e9 && p.get(j, j) >= 0 && p.get(j, j) < 1e9;
    }
    return healthy;
  }

  private void correctCell(double celsius) {
    double perSample = Math.max(THERMOMETER_SECONDS / Math.max(elapsed, 1e-3), 1);
    for (int j = 0; j < SIZE; j++) {
      phVolts[j] = p.get(j, CELL);
    }
    double s = phVolts[CELL] + THERMOMETER_VARIANCE * perSample;
    double w = (celsius - x[CELL]) / s;
    double part = learns() ? LEARNED_PART : 0;
    for (int j = 0; j < SIZE; j++) {
      x[j] += (j < ESTIMATED ? 1 : part) * phVolts[j] * w;
    }
    boundConstants();
    p.downdate(phVolts, s, part > 0 ? LEARNED_SHARE : 0);
  }

  /** Calm or edge, and how well the motor model does. */
  private void follow(double yVolts, double yAmps, double normAmps) {
    double conditional = yVolts - covariance / varianceAmps * yAmps;
    double sd = Math.sqrt(varianceVolts - covariance * covariance / varianceAmps);
    edge.follow(elapsed, conditional / sd);
    double growth = 0.5 * Math.min(elapsed, 0.1) * (normAmps - 1);
    emfNoise = clamp(emfNoise * (1 + growth * (1 + 0.5 * growth)), 1, 10);
  }

  private void moveCurve() {
    array
        .curve()
        .setAltered(
            suns.of(x[LIGHT]), x[CELL], seriesFactor.of(x[SERIES]), idealityFactor.of(x[IDEALITY]));
  }

  /** Winding resistance at the last corrected state, ohm. */
  double ohms() {
    return point.ohms(x);
  }

  /** Light at the last corrected state, suns. */
  double suns() {
    return suns.value();
  }

  double state(int index) {
    return x[index];
  }

  Covariance covariance() {
    return p;
  }

  /** Bus voltage at the corrected operating point, V. */
  double volts() {
    return point.volts();
  }

  /** Bus current at the corrected operating point, A. */
  double amps() {
    return point.amps();
  }

  double normalisedInnovation() {
    return normalisedInnovation;
  }

  void write(StateBytes out) {
    for (int i = 0; i < SIZE; i++) {
      out.put(x[i]);
    }
    out.put(instrumentLight);
    out.put(instrumentEmf);
    out.put(lastThrottle);
    out.put(airborne ? 1 : 0);
    for (int i = 0; i < SIZE; i++) {
      for (int j = i; j < SIZE; j++) {
        out.putShort(p.get(i, j));
      }
    }
  }

  void read(StateBytes in) {
    for (int i = 0; i < SIZE; i++) {
      x[i] = in.get();
    }
    instrumentLight = in.get();
    instrumentEmf = in.get();
    lastThrottle = in.get();
    airborne = in.get() != 0;
    for (int i = 0; i < SIZE; i++) {
      for (int j = i; j < SIZE; j++) {
        p.set(i, j, in.getShort());
      }
      // what single precision lost must not make the matrix sharper than it was
      p.set(i, i, p.get(i, i) * (1 + SINGLE_PRECISION));
    }
    bound();
    boundConstants();
    moveCurve();
    point.solve(x, lastThrottle);
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int j = 0; j < SIZE; j++) {
      sum += a[j] * b[j];
    }
    return sum;
  }

  private static double clamp(double value, double low, double high) {
    return Math.min(Math.max(value, low), high);
  }

  private static double square(double v) {
    return v * v;
  }
}
