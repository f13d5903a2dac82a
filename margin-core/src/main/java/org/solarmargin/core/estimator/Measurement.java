package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CURRENT_GAIN;
import static org.solarmargin.core.estimator.State.CURRENT_OFFSET;
import static org.solarmargin.core.estimator.State.FILTERED_AMPS;
import static org.solarmargin.core.estimator.State.FILTERED_VOLTS;
import static org.solarmargin.core.estimator.State.IDEALITY;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.SERIES;
import static org.solarmargin.core.estimator.State.SIZE;
import static org.solarmargin.core.estimator.State.VOLTAGE_GAIN;

import org.solarmargin.core.align.Sample;
import org.solarmargin.core.array.SolarArray;

/**
 * The measurement model, linearised at the present state: the innovations of voltage and current,
 * their covariance, and their cross-covariance with the state.
 */
final class Measurement {

  /** Error of the array model in the voltage from sample to sample, V, 1 sigma. */
  static final double MODEL_VOLTS = 1e-3;

  private final SolarArray array;
  private final OperatingPoint point;
  private final Instruments instruments;
  private final IncrementalExponential suns = new IncrementalExponential();
  private final IncrementalExponential seriesFactor = new IncrementalExponential();
  private final IncrementalExponential idealityFactor = new IncrementalExponential();

  /**
   * Variance of an absent reading, V squared or A squared. The update then uses its prediction as
   * the reading, which does not change the state and propagates the state of its filter. It is
   * large compared with the variance of any reading, and small enough for double precision.
   */
  private static final double ABSENT = 1e6;

  /** P h' of each reading, where h is its row of the measurement Jacobian. */
  final double[] phVolts = new double[SIZE];

  final double[] phAmps = new double[SIZE];

  double yVolts;
  double yAmps;
  double varianceVolts;
  double varianceAmps;
  double covariance;

  private double voltsNew = 1;
  private double ampsNew = 1;
  private double noiseVolts;
  private double noiseAmps;
  private double readoutVolts;
  private double readoutAmps;
  private double readVolts;
  private double readAmps;
  private double stepVolts = 1;
  private double stepAmps = 1;
  private double sensorVolts;
  private double sensorAmps;

  Measurement(SolarArray array, OperatingPoint point, Instruments instruments) {
    this.array = array;
    this.point = point;
    this.instruments = instruments;
  }

  void reset() {
    suns.forget();
    seriesFactor.forget();
    idealityFactor.forget();
  }

  /** Sets the array's curve to a state. */
  void moveCurve(double[] x) {
    array
        .curve()
        .setAltered(
            suns.of(x[LIGHT]),
            x[State.CELL],
            seriesFactor.of(x[SERIES]),
            idealityFactor.of(x[IDEALITY]),
            x[State.VOC_COEFF]);
  }

  /** Sets the array's curve to any state, its light moved by a logarithm. */
  void setCurve(double[] state, double logSuns) {
    array
        .curve()
        .setAltered(
            Math.exp(state[LIGHT] + logSuns),
            state[State.CELL],
            Math.exp(state[SERIES]),
            Math.exp(state[IDEALITY]),
            state[State.VOC_COEFF]);
  }

  /** Bus voltage on the present curve at a bus current, V. */
  double voltsAt(double busAmps) {
    return array.voltsAt(busAmps);
  }

  /** Light at the state of the last {@link #moveCurve}, suns. */
  double suns() {
    return suns.value();
  }

  /** Sets the noise and filter weights of the coming reading. */
  void prepare(Sample sample) {
    voltsNew = sample.voltsNew;
    ampsNew = sample.ampsNew;
    sensorVolts = sample.voltsVariance;
    sensorAmps = sample.ampsVariance;
    readoutVolts = sample.hasVolts ? sample.voltsReadout : ABSENT;
    readoutAmps = sample.hasAmps ? sample.ampsReadout : ABSENT;
    noiseVolts =
        voltsNew * voltsNew * (sample.voltsVariance + MODEL_VOLTS * MODEL_VOLTS) + readoutVolts;
    noiseAmps = ampsNew * ampsNew * sample.ampsVariance + readoutAmps;
  }

  /**
   * Solves the operating point at {@code x} and computes the Jacobian there and the innovations
   * relative to the prediction. A filtered reading is {@code (1 - c)} times the filter's previous
   * output plus {@code c} times the new value, c = h / (tau + h) for a step h.
   */
  void linearise(double[] x, double[] predicted, Covariance p, Sample sample) {
    moveCurve(x);
    solve(x, sample.throttle);
    updateCovariances(p);
    double volts =
        (1 + x[VOLTAGE_GAIN]) * point.volts() + linearChange(point.voltageJacobian(), predicted, x);
    double amps =
        (1 + x[CURRENT_GAIN]) * point.amps()
            + x[CURRENT_OFFSET]
            + linearChange(point.currentJacobian(), predicted, x);
    double expectedVolts = blend(voltsNew, x[FILTERED_VOLTS], volts);
    double expectedAmps = blend(ampsNew, x[FILTERED_AMPS], amps);
    readVolts = sample.hasVolts ? sample.volts : expectedVolts;
    readAmps = sample.hasAmps ? sample.amps : expectedAmps;
    yVolts = readVolts - expectedVolts;
    yAmps = readAmps - expectedAmps;
  }

  /** Sets the weights of the new values in the sensors' filters for the coming step. */
  void setStep(double volts, double amps) {
    stepVolts = volts;
    stepAmps = amps;
  }

  /**
   * Updates the sensors' filters between two readings by the operating point of the last {@link
   * #solve}, with the sensors' noise.
   */
  void passFilters(double[] x, Covariance p) {
    passFilter(
        x,
        p,
        stepVolts,
        (1 + x[VOLTAGE_GAIN]) * point.volts(),
        point.voltageJacobian(),
        FILTERED_VOLTS);
    passFilter(
        x,
        p,
        stepAmps,
        (1 + x[CURRENT_GAIN]) * point.amps() + x[CURRENT_OFFSET],
        point.currentJacobian(),
        FILTERED_AMPS);
    if (stepVolts < 1) {
      p.addVariance(FILTERED_VOLTS, stepVolts * stepVolts * sensorVolts);
    }
    if (stepAmps < 1) {
      p.addVariance(FILTERED_AMPS, stepAmps * stepAmps * sensorAmps);
    }
  }

  /** Sets the covariance of the filters' outputs to that of readings with the sensors' noise. */
  void beginFilters(Covariance p) {
    p.scale(FILTERED_VOLTS, 0);
    p.scale(FILTERED_AMPS, 0);
    p.addVariance(FILTERED_VOLTS, sensorVolts);
    p.addVariance(FILTERED_AMPS, sensorAmps);
  }

  private static void passFilter(
      double[] x, Covariance p, double newShare, double now, double[] row, int filterState) {
    if (newShare < 1) {
      x[filterState] = blend(newShare, x[filterState], now);
      p.transformRow(filterState, behindFilter(p.form(), row, newShare, filterState));
    }
  }

  private static double blend(double newShare, double before, double now) {
    return newShare == 1 ? now : before + newShare * (now - before);
  }

  /** Solves the operating point on the present curve and takes the Jacobian there. */
  void solve(double[] x, double throttle) {
    point.solve(x, throttle);
    point.differentiate(x, throttle, instruments.lightShift(x), instruments.emfShift(x));
  }

  /** Innovation covariance at the present Jacobian. */
  void updateCovariances(Covariance p) {
    double[] amps = behindFilter(p.secondForm(), point.currentJacobian(), ampsNew, FILTERED_AMPS);
    double[] volts = behindFilter(p.form(), point.voltageJacobian(), voltsNew, FILTERED_VOLTS);
    p.times(volts, phVolts, amps, phAmps);
    varianceAmps = dot(amps, phAmps) + noiseAmps;
    varianceVolts = dot(volts, phVolts) + noiseVolts;
    covariance = dot(volts, phAmps);
  }

  private static double[] behindFilter(double[] h, double[] row, double newShare, int filterState) {
    if (newShare == 1) {
      return row;
    }
    for (int j = 0; j < State.UNFILTERED; j++) {
      h[j] = newShare * row[j];
    }
    h[FILTERED_VOLTS] = 0;
    h[FILTERED_AMPS] = 0;
    h[filterState] = 1 - newShare;
    return h;
  }

  /** Whether one of the readings is filtered. */
  private boolean filtered() {
    return voltsNew < 1 || ampsNew < 1;
  }

  /**
   * Sets mean and covariance of the filters' outputs given the reading, without the readout's own
   * error. Call before the covariance is downdated.
   */
  void holdFiltered(double[] x, Covariance p) {
    if (!filtered()) {
      return;
    }
    double determinant = varianceVolts * varianceAmps - covariance * covariance;
    double ivv = varianceAmps / determinant;
    double iva = -covariance / determinant;
    double iaa = varianceVolts / determinant;
    // the error of a readout, given its innovation: r S^-1 y
    x[FILTERED_VOLTS] = readVolts - readoutVolts * (ivv * yVolts + iva * yAmps);
    x[FILTERED_AMPS] = readAmps - readoutAmps * (iva * yVolts + iaa * yAmps);
    for (int j = 0; j < State.UNFILTERED; j++) {
      p.set(j, FILTERED_VOLTS, readoutVolts * (ivv * phVolts[j] + iva * phAmps[j]));
      p.set(j, FILTERED_AMPS, readoutAmps * (iva * phVolts[j] + iaa * phAmps[j]));
    }
    p.set(FILTERED_VOLTS, FILTERED_VOLTS, readoutVolts * (1 - readoutVolts * ivv));
    p.set(FILTERED_AMPS, FILTERED_AMPS, readoutAmps * (1 - readoutAmps * iaa));
    p.set(FILTERED_VOLTS, FILTERED_AMPS, -readoutVolts * iva * readoutAmps);
  }

  /** Weight of the new value in a voltage reading, 1 without a filter. */
  double voltsNew() {
    return voltsNew;
  }

  /** Weight of the new value in a current reading, 1 without a filter. */
  double ampsNew() {
    return ampsNew;
  }

  /** Squared innovation of the voltage over its variance. */
  double normVolts() {
    return yVolts * yVolts / varianceVolts;
  }

  /** Squared innovation of the current over its variance. */
  double normAmps() {
    return yAmps * yAmps / varianceAmps;
  }

  /**
   * Squared distance of the current reading from that which the motors draw at the voltage reading,
   * over its variance. The light moves the operating point along the load line only, so a large
   * value is due to the sensors or the motors.
   *
   * @return 0 if one of the readings is absent
   */
  double normLoad(double[] x, Sample sample) {
    if (!(sample.hasVolts && sample.hasAmps)) {
      return 0;
    }
    double before = x[FILTERED_VOLTS];
    double volts = voltsNew == 1 ? readVolts : before + (readVolts - before) / voltsNew;
    double busVolts = Math.max(volts / (1 + x[VOLTAGE_GAIN]), 0);
    double load =
        (1 + x[CURRENT_GAIN]) * point.loadAmps(x, sample.throttle, busVolts) + x[CURRENT_OFFSET];
    double y = readAmps - blend(ampsNew, x[FILTERED_AMPS], load);
    double slope =
        ampsNew * point.currentJacobian()[LIGHT] / (voltsNew * point.voltageJacobian()[LIGHT]);
    return y * y / (varianceAmps + slope * (slope * varianceVolts - 2 * covariance));
  }

  private static double linearChange(double[] row, double[] from, double[] to) {
    double sum = 0;
    for (int j = 0; j < State.UNFILTERED; j++) {
      sum += row[j] * (from[j] - to[j]);
    }
    return sum;
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int j = 0; j < SIZE; j++) {
      sum += a[j] * b[j];
    }
    return sum;
  }
}
