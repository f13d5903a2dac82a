package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.AIR;
import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.CURRENT_GAIN;
import static org.solarmargin.core.estimator.State.CURRENT_OFFSET;
import static org.solarmargin.core.estimator.State.EMF;
import static org.solarmargin.core.estimator.State.ESTIMATED;
import static org.solarmargin.core.estimator.State.FILTERED_AMPS;
import static org.solarmargin.core.estimator.State.FILTERED_VOLTS;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.PROPULSION;
import static org.solarmargin.core.estimator.State.SIZE;
import static org.solarmargin.core.estimator.State.THERMOMETER_OFFSET;
import static org.solarmargin.core.estimator.State.UNFILTERED;
import static org.solarmargin.core.estimator.State.VOLTAGE_GAIN;
import static org.solarmargin.core.estimator.State.WINDING;
import static org.solarmargin.core.estimator.StateBounds.clamp;

import org.solarmargin.core.align.Sample;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.rotor.RotorLoad;
import org.solarmargin.core.state.StateBytes;

/**
 * Iterated extended Kalman filter (Bell and Cathey, IEEE Trans. Automatic Control 38, 1993) over
 * the states of {@link State}. The constants of cells and sensors are updated with a fraction of
 * the Kalman gain (partial update: K. M. Brink, J. Guidance, Control, and Dynamics 40(9), 2017, of
 * which Schmidt's form of 1966 is the case of fraction 0), because the model's own errors are not
 * white and a full gain attributes correlated model error to the constants.
 *
 * <p>Light, cell temperature and true current are hidden. Voltage and current are measurements of
 * the operating point; the throttle is a known input that acts on it through the rotor speed.
 * Treating the measured current as exact would make the apparent slope of the curve too flat and
 * the available power far too high.
 *
 * <p>{@link Transition} makes the prediction, {@link Measurement} the linearisation, and this class
 * the measurement update. The Jacobian is taken at the {@link Instruments}, not at the newest
 * estimate, whose noise is correlated with that of the innovation.
 */
final class HiddenStateFilter {

  /** Squared distance from the motors' load line over its variance: 4 sigmas. */
  private static final double OFF_LOAD_LINE = 16;

  /**
   * A change of the light's logarithm by more than this in one sample is treated as an outlier,
   * whatever the readings: a Jacobian taken at its end is not valid at its beginning, and a spin-up
   * on cells cooler than expected would leave the filter certain of light and temperature that are
   * both wrong ({@code SpinUpTest}).
   */
  private static final double LIGHT_OUTLIER = 0.2;

  private static final double LIGHT_STEP_MAX = 0.7;

  /** Logarithm of the ratio of two lights that are the same but for the weather of some seconds. */
  private static final double SAME_LIGHT = 0.15;

  /** Sigma of the light after a step while the rotors spin up, relative to the step. */
  private static final double SPIN_UP_SD_SHARE = 0.5;

  /** States that an update may move by a part of the full gain only: {@link #slowPart}. */
  private static final int[] SLOW = {CELL, PROPULSION, WINDING, AIR};

  /**
   * Interval from which readings are sparse, s. The course of the throttle during an edge between
   * two of them is not known, and a part of the edge would be attributed to the temperatures.
   */
  private static final double SPARSE_SECONDS = 0.2;

  /** Fraction of the full gain with which constants are updated. */
  static final double LEARNED_PART = 0.3;

  /** Resulting fraction of the full reduction of their variance. */
  static final double LEARNED_SHARE = 1 - (1 - LEARNED_PART) * (1 - LEARNED_PART);

  /**
   * Time in the air after which the rotors are up to speed and constants are updated, s.
   * Engineering judgement, not tuned.
   */
  static final double SETTLED_SECONDS = 3;

  static final double LEARN_LIGHT_DRIFT = 1.5 * EdgeDetector.CALM_LIGHT_DRIFT;
  private static final double ROUNDING = 1e-9;
  private static final double SINGLE_PRECISION = 1e-5;
  private static final int ITERATIONS = 4;
  private static final double CONVERGED = 0.02;

  private final Prior prior;
  private final OperatingPoint point;
  private final StateBounds bounds;
  private final Instruments instruments = new Instruments();
  private final Transition transition;
  private final Measurement measurement;
  private final Innovations innovations = new Innovations();
  private final Thermometer thermometer = new Thermometer();

  private final double[] x = new double[SIZE];
  private final double[] predicted = new double[SIZE];
  private final Covariance p;
  private double lastThrottle;
  private boolean airborne;
  private boolean settled;
  private boolean throttleUsed = true;
  private double elapsed;
  private boolean coasted;
  private boolean outlier;
  private double outlierSize;
  private boolean offLoadLine;
  private double sinceCelsius;

  HiddenStateFilter(EstimatorSettings settings, SolarArray array) {
    prior = new Prior(settings);
    p = new Covariance(!settings.timing().known() || settings.timing().longestFilterSeconds() > 0);
    point = new OperatingPoint(array, settings.rotor().housekeepingWatts());
    bounds = new StateBounds(prior, array);
    transition = new Transition(settings, prior, point, instruments);
    measurement = new Measurement(array, point, instruments);
    reset();
  }

  void reset() {
    prior.fill(x, p);
    point.reset();
    lastThrottle = Double.NaN;
    airborne = true;
    settled = false;
    elapsed = 0;
    coasted = false;
    innovations.reset();
    measurement.reset();
    transition.reset();
    thermometer.reset();
    offLoadLine = false;
    sinceCelsius = 0;
    measurement.moveCurve(x);
  }

  /** First sample: the rotors are assumed steady at this throttle, with a large variance. */
  void start(double busVolts, double busAmps, double throttle) {
    holdFiltered(busVolts, busAmps);
    x[EMF] =
        RotorLoad.steadyBackEmf(throttle * busVolts, Math.exp(x[WINDING]), Math.exp(x[PROPULSION]));
    lastThrottle = throttle;
    instruments.restart(x);
    point.solve(x, throttle);
  }

  /** Predicts the state after {@code seconds}, at the next command or sample. */
  void predict(double seconds, double throttle) {
    if (elapsed > 0) {
      // between samples the operating point follows the commands
      passFilters();
    }
    double jump = gapVariance(elapsed + seconds) - gapVariance(elapsed);
    double edgeRatio = innovations.lightDrift() / EdgeDetector.CALM_LIGHT_DRIFT;
    boolean gap = seconds > Transition.GAP_SECONDS;
    double acting = gap ? 0.5 * (lastThrottle + throttle) : lastThrottle;
    transition.moveRotor(x, p, seconds, acting, innovations.emfNoise(), edgeRatio);
    if (seconds > Transition.UNKNOWN_COURSE_SECONDS) {
      transition.addSparseNoise(p, seconds, throttle - lastThrottle);
    }
    transition.moveCells(x, p, seconds, measurement.suns(), airborne);
    transition.addProcessNoise(x, p, seconds, innovations.lightDrift(), jump);
    lastThrottle = throttle;
    elapsed += seconds;
  }

  /** Additional variance of the light's logarithm after a gap since the last sample. */
  static double gapVariance(double seconds) {
    return seconds > Transition.GAP_SECONDS ? square(Transition.GAP_LIGHT_RATE * seconds) : 0;
  }

  /** Sets the command that is in effect from the instant of the state on. */
  void hold(double throttle) {
    lastThrottle = throttle;
  }

  /** At take-off and landing, reinitialises the temperature of the air at the cells. */
  void setAirborne(boolean flies, double forSeconds) {
    settled = flies && forSeconds > SETTLED_SECONDS;
    if (flies == airborne) {
      return;
    }
    airborne = flies;
    x[AIR] = 0;
    p.scale(AIR, 0);
    p.addVariance(AIR, square(Prior.initialAirSd(flies)));
  }

  /** Predicts the state without a measurement update. */
  void coast(double seconds, double throttle) {
    predict(seconds, throttle);
    sinceCelsius += elapsed;
    elapsed = 0;
    coasted = true;
    double jump = square(Transition.GAP_LIGHT_RATE) * seconds;
    p.addVariance(LIGHT, Math.min(jump, Transition.LIGHT_JUMP_VARIANCE));
    if (p.filtered()) {
      passFilters();
    } else {
      measurement.moveCurve(x);
    }
  }

  /** Updates the sensors' filters by the operating point at the present state and command. */
  private void passFilters() {
    measurement.moveCurve(x);
    measurement.solve(x, lastThrottle);
    measurement.passFilters(x, p);
  }

  /**
   * Measurement update by one sample.
   *
   * @param mayHold whether an outlier may be deferred until the next sample confirms it or not
   * @return false if the update is deferred; the state is then the prediction
   */
  boolean correct(Sample sample, boolean mayHold) {
    sinceCelsius += elapsed;
    System.arraycopy(x, 0, predicted, 0, SIZE);
    measurement.prepare(sample);
    measurement.linearise(x, predicted, p, sample);
    double normVolts = measurement.normVolts();
    double normAmps = measurement.normAmps();
    outlierSize = Math.max(normVolts, normAmps);
    boolean large = normVolts > Innovations.HOLD || normAmps > Innovations.HOLD;
    offLoadLine = large && measurement.normLoad(x, sample) > OFF_LOAD_LINE;
    if (mayHold && large) {
      measurement.passFilters(x, p);
      elapsed = 0;
      return false;
    }
    innovations.follow(elapsed, sample, measurement);
    outlier = normVolts > Innovations.JUMP || normAmps > Innovations.JUMP;
    if (outlier && (!settled || (sample.hasVolts && sample.hasAmps))) {
      inflate(normVolts, normAmps);
    }
    boolean far = iterate(sample);
    measurement.holdFiltered(x, p);
    downdate();
    if (sample.hasCellCelsius()) {
      correctCell(sample.cellCelsius);
    }
    if (far) {
      instruments.restart(x);
    }
    bounds.apply(x);
    measurement.moveCurve(x);
    if (far || sample.hasCellCelsius()) {
      point.solve(x, sample.throttle);
    } else {
      point.shift(predicted, x);
    }
    elapsed = 0;
    coasted = false;
    return true;
  }

  /**
   * An outlier inflates the variances of the states that may have jumped: light and back-EMF. In
   * flight both readings are needed to tell which: a voltage alone that was measured at another
   * throttle than the last one known would change the light by a quarter.
   */
  private void inflate(double normVolts, double normAmps) {
    Measurement m = measurement;
    double perLight = m.voltsNew() * point.voltageJacobian()[LIGHT];
    if (normVolts > Innovations.JUMP && perLight != 0) {
      double needed = (m.yVolts * m.yVolts - m.varianceVolts) / (perLight * perLight);
      p.addVariance(LIGHT, Math.min(needed, Transition.LIGHT_JUMP_VARIANCE));
    }
    double perEmf = m.ampsNew() * point.currentJacobian()[EMF];
    if (normAmps > Innovations.JUMP && perEmf != 0) {
      double needed = (m.yAmps * m.yAmps - m.varianceAmps) / (perEmf * perEmf);
      p.addVariance(EMF, Math.min(needed, square(0.5 * x[EMF] + 1)));
    }
    m.updateCovariances(p);
  }

  /**
   * Gauss-Newton iterations about the newest point; the first one is the plain extended filter.
   *
   * @return whether more than one iteration was needed
   */
  private boolean iterate(Sample sample) {
    boolean far = false;
    for (int i = 1; step() > CONVERGED && i < ITERATIONS; i++) {
      far = true;
      outlier |= Math.abs(x[LIGHT] - predicted[LIGHT]) > LIGHT_OUTLIER;
      instruments.restart(x);
      measurement.linearise(x, predicted, p, sample);
    }
    return far;
  }

  /** Updates the states; returns how far light and back-EMF moved. */
  private double step() {
    Measurement m = measurement;
    double product = m.varianceVolts * m.varianceAmps;
    double determinant = Math.max(product - m.covariance * m.covariance, ROUNDING * product);
    double wVolts = (m.varianceAmps * m.yVolts - m.covariance * m.yAmps) / determinant;
    double wAmps = (m.varianceVolts * m.yAmps - m.covariance * m.yVolts) / determinant;
    double light = x[LIGHT];
    double emf = x[EMF];
    for (int j = 0; j < ESTIMATED; j++) {
      x[j] = predicted[j] + m.phVolts[j] * wVolts + m.phAmps[j] * wAmps;
    }
    if (learns()) {
      for (int j = ESTIMATED; j < UNFILTERED; j++) {
        x[j] = predicted[j] + LEARNED_PART * (m.phVolts[j] * wVolts + m.phAmps[j] * wAmps);
      }
      bounds.applyToConstants(x);
    }
    x[LIGHT] = clamp(x[LIGHT], light - LIGHT_STEP_MAX, light + LIGHT_STEP_MAX);
    if (outlier) {
      System.arraycopy(predicted, ESTIMATED, x, ESTIMATED, UNFILTERED - ESTIMATED);
    }
    for (int j : SLOW) {
      double part = slowPart(j);
      x[j] = part == 1 ? x[j] : predicted[j] + part * (x[j] - predicted[j]);
    }
    bounds.apply(x);
    return Math.abs(x[LIGHT] - light) + Math.abs(x[EMF] - emf) / (Math.abs(emf) + 1);
  }

  /**
   * Updates the covariance: by the voltage first, then by the part of the current independent of
   * it.
   */
  private void downdate() {
    Measurement m = measurement;
    double[] amps = m.phAmps;
    double share = m.covariance / m.varianceVolts;
    for (int j = 0; j < UNFILTERED; j++) {
      amps[j] -= m.phVolts[j] * share;
    }
    double rest = Math.max(m.varianceAmps - m.covariance * share, ROUNDING * m.varianceAmps);
    p.downdate(m.phVolts, m.varianceVolts, amps, rest, learns() ? LEARNED_SHARE : 0);
    if (outlier) {
      double sd = settled ? 0 : SPIN_UP_SD_SHARE * (x[LIGHT] - predicted[LIGHT]);
      p.addVariance(LIGHT, square(sd));
    }
    // what was not moved keeps its variance
    for (int j : SLOW) {
      double kept = 1 - slowPart(j);
      if (kept > 0) {
        double full = square(m.phVolts[j]) / m.varianceVolts + square(amps[j]) / rest;
        p.addVariance(j, kept * kept * full);
      }
    }
  }

  /**
   * The part of the full update that a slow state takes: none of an outlier, because a spike would
   * leave it in a false minimum, and a fraction for the temperatures at an edge of the light
   * between sparse readings.
   */
  private double slowPart(int j) {
    if (outlier) {
      return 0;
    }
    boolean sparseEdge =
        throttleUsed && elapsed > SPARSE_SECONDS && innovations.lightDrift() > LEARN_LIGHT_DRIFT;
    return sparseEdge && (j == CELL || j == AIR) ? LEARNED_PART : 1;
  }

  /**
   * Whether the array in another state, with the light up to {@link #SAME_LIGHT} apart, has the
   * voltage of a sample at its current.
   */
  boolean explains(double[] state, Sample sample) {
    double volts = busVolts(state, sample);
    double amps = busAmps(state, sample);
    measurement.setCurve(state, -SAME_LIGHT);
    boolean above = volts >= measurement.voltsAt(amps);
    measurement.setCurve(state, SAME_LIGHT);
    boolean below = volts <= measurement.voltsAt(amps);
    measurement.moveCurve(x);
    return above && below;
  }

  /** Ratio of a sample's current to that which the motors would draw steadily in another state. */
  double loadRatio(double[] state, Sample sample) {
    double volts = Math.max(busVolts(state, sample), 0);
    return busAmps(state, sample) / point.steadyAmps(state, sample.throttle, volts);
  }

  /** Bus voltage of a sample without the sensor's errors in the present state, V. */
  double busVolts(Sample sample) {
    return busVolts(x, sample);
  }

  /** Bus current of a sample without the sensor's errors in the present state, A. */
  double busAmps(Sample sample) {
    return busAmps(x, sample);
  }

  private static double busVolts(double[] state, Sample sample) {
    return sample.volts / (1 + state[VOLTAGE_GAIN]);
  }

  private static double busAmps(double[] state, Sample sample) {
    return (sample.amps - state[CURRENT_OFFSET]) / (1 + state[CURRENT_GAIN]);
  }

  /** Sets the array's curve to another state until {@link #moveCurve}. */
  void moveCurve(double[] state) {
    measurement.setCurve(state, 0);
  }

  /** Sets the array's curve to the state. */
  void moveCurve() {
    measurement.moveCurve(x);
  }

  /** Whether constants are updated: not by outliers, after gaps or at edges. */
  private boolean learns() {
    return settled
        && !outlier
        && !coasted
        && elapsed <= Transition.GAP_SECONDS
        && innovations.lightDrift() <= LEARN_LIGHT_DRIFT;
  }

  private void correctCell(double celsius) {
    double[] ph = measurement.phVolts;
    for (int j = 0; j < SIZE; j++) {
      ph[j] = p.get(j, CELL) + p.get(j, THERMOMETER_OFFSET);
    }
    double expected = ph[CELL] + ph[THERMOMETER_OFFSET];
    double innovation = celsius - Thermometer.expected(x);
    double seconds = sinceCelsius;
    sinceCelsius = 0;
    if (!thermometer.takes(seconds, innovation, expected)) {
      return;
    }
    double s = expected + Thermometer.noise(seconds);
    double w = innovation / s;
    double part = learns() ? LEARNED_PART : 0;
    for (int j = 0; j < SIZE; j++) {
      boolean constant = j >= ESTIMATED && j < UNFILTERED;
      x[j] += (constant ? part : 1) * ph[j] * w;
    }
    bounds.applyToConstants(x);
    p.downdate(ph, s, part > 0 ? LEARNED_SHARE : 0);
  }

  /** Whether the cell temperature reading deviates so far that it is not used. */
  boolean thermometerLeftOut() {
    return thermometer.leftOut();
  }

  /** Whether the state is finite and the variances are non-negative. */
  boolean healthy() {
    return StateBounds.healthy(x, p);
  }

  /** Sets whether a sensor has a filter, whose state is then part of the covariance. */
  void setFiltered(boolean filtered) {
    p.setFiltered(filtered);
  }

  /** Begins the states of the sensors' filters, which were not used so far, at a sample. */
  void beginFilters(Sample sample) {
    holdFiltered(sample.volts, sample.amps);
    measurement.beginFilters(p);
  }

  /**
   * Sets whether the commands are those of the readings' instants; if not, none move the rotors.
   */
  void setThrottleUsed(boolean used) {
    throttleUsed = used;
  }

  /**
   * Sets the weights of the new values in the sensors' filters for the coming step, between two
   * readings.
   */
  void setFilterStep(double voltsNew, double ampsNew) {
    measurement.setStep(voltsNew, ampsNew);
  }

  /** The command that is in effect from the instant of the state on. */
  double throttle() {
    return lastThrottle;
  }

  /** Winding resistance at the last corrected state, ohm. */
  double ohms() {
    return point.ohms(x);
  }

  /** Present process noise of the light's logarithm, 1 over root second. */
  double lightDrift() {
    return innovations.lightDrift();
  }

  /** Number of sigmas by which the estimate is biased low in a wind that cools the cells. */
  double coolingBiasSigmas() {
    return transition.coolingBiasSigmas();
  }

  /** Light at the last corrected state, suns. */
  double suns() {
    return measurement.suns();
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

  /** Whether the last sample was an outlier. */
  boolean outlier() {
    return outlier;
  }

  /** The greater of the last two squared innovations over their variances, before any inflation. */
  double outlierSize() {
    return outlierSize;
  }

  /** Whether the last sample was further from the motors' load line than the light explains. */
  boolean offLoadLine() {
    return offLoadLine;
  }

  /** Sets the states of the sensors' filters to the last readings. */
  void holdFiltered(double busVolts, double busAmps) {
    x[FILTERED_VOLTS] = busVolts;
    x[FILTERED_AMPS] = busAmps;
  }

  /** The innovations of the last corrected sample. */
  Innovations innovations() {
    return innovations;
  }

  void write(StateBytes out) {
    for (int i = 0; i < SIZE; i++) {
      out.put(x[i]);
    }
    instruments.write(out);
    transition.write(out);
    thermometer.write(out);
    out.put(sinceCelsius);
    innovations.write(out);
    out.put(lastThrottle);
    out.put(airborne ? 1 : 0);
    for (int i = 0; i < SIZE; i++) {
      for (int j = i; j < SIZE; j++) {
        out.putFloat(p.get(i, j));
      }
    }
  }

  void read(StateBytes in) {
    for (int i = 0; i < SIZE; i++) {
      x[i] = in.get();
    }
    instruments.read(in);
    transition.read(in);
    thermometer.read(in);
    sinceCelsius = in.getNonNegative();
    innovations.read(in);
    lastThrottle = in.get();
    airborne = in.get() != 0;
    for (int i = 0; i < SIZE; i++) {
      for (int j = i; j < SIZE; j++) {
        p.set(i, j, in.getFloat());
      }
      // rounding to single precision must not make the covariance smaller than it was
      p.set(i, i, p.get(i, i) * (1 + SINGLE_PRECISION));
    }
    bounds.apply(x);
    bounds.applyToConstants(x);
    measurement.moveCurve(x);
    // the next prediction uses the Jacobian at this point
    measurement.solve(x, lastThrottle);
  }

  private static double square(double v) {
    return v * v;
  }
}
