package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.IDEALITY;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.SERIES;

import org.solarmargin.core.align.Sample;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.state.StateBytes;

/**
 * Decides whether a fall of the light affects all cells equally or is a shadow on a few: a mixture
 * of hypotheses weighted by Bayes' rule (D. Magill, IEEE Trans. Automatic Control 10, 1965).
 *
 * <p>A few cells with less light than the rest limit the whole string: the craft can fly up to the
 * first power peak counted from open circuit, just below the photocurrent of the dim cells. Far
 * from that current the dim cells reduce the voltage very little; near it the curve becomes steep.
 * A uniform change of the light affects all cells a little. Each hypothesis predicts the bus
 * voltage at the measured current from the light and temperature before the fall: a uniform change
 * whose depth is a state, and thirteen depths of shadow on 1, 3 and 8 cells of each string. The
 * level of the voltage is known to some hundredths of a volt only (temperature, calibration), so
 * each hypothesis has its own mean of a slow offset (Rao-Blackwellised; A. Doucet et al., UAI
 * 2000). Shadows appear and disappear at rates that give them a stated share of the time. Constants
 * without a source are engineering judgement, not tuned.
 */
final class UnevenLight {

  /** Interval of measurement updates, s. */
  private static final double STEP_SECONDS = 0.1;

  /** Interval of time updates and, while shadows are unlikely, of new factors, s. */
  private static final double PREDICTION_SECONDS = 0.2;

  /** Probability of a shadow above which the factors are computed after each measurement update. */
  private static final double LIKELY = 0.1;

  /** Slow error of the voltage, V per cell, 1 sigma (as of 1.5 K), and its correlation time, s. */
  private static final double LEVEL_VOLTS = 0.0033;

  private static final double LEVEL_SECONDS = 60;

  /** Relative error of the slope of the curve, 1 sigma, and its correlation time, s. */
  private static final double SLOPE_SHARE = 0.06;

  private static final double SLOPE_SECONDS = 600;

  /** Number of readings with the information of one, because the model's errors are not white. */
  private static final double MODEL_FACTOR = 4;

  /** Lag of the readings from which the bend of the curve appears as a steeper curve, s. */
  private static final double SHARP_SECONDS = 0.05;

  private static final double RISING_SECONDS = 3;
  private static final double FALLING_SECONDS = 120;

  /**
   * Lag of a falling reference light once a uniform change is certain; the rate is that of its
   * probability to the third power. Shadows are relative to the reference, so that they remain
   * possible under a cloud.
   */
  private static final double UNIFORM_SECONDS = 10;

  /** Factor on the odds of a shadow before one is reported. */
  private static final double CLAIM_ODDS = 0.05;

  private static final double LEAST_UNIFORM_SHARE = 0.02;

  private static final int OWN_NUMBERS = 11;

  /** Length of a saved state, bytes. */
  static final int STATE_BYTES =
      ShadowMixture.STATE_BYTES
          + (ShadowFactors.STATE_NUMBERS + UniformLight.STATE_NUMBERS + OWN_NUMBERS) * Double.BYTES;

  private final SolarArray array;
  private final CellCurve curve;
  private final double perKelvin;
  private final double levelVariance;
  private double statedSlope;

  private final ShadowPeaks peaks;
  private final ShadowMixture mixture;
  private final ShadowFactors factors;
  private final VoltageResidual reading = new VoltageResidual();

  /** Scratch array within a step: log-likelihoods, then the distribution. */
  private final float[] scratch =
      new float[Math.max(ShadowMixture.CLEAR + 1, ShadowDistribution.NUMBERS)];

  private final UniformLight uniform;
  private boolean moved;
  private double offsetVariance;
  private double slopeVariance;
  private double crossVariance;
  private double middleAmps;
  private double since;
  private double sincePrediction;
  private boolean started;
  private double airSeconds;
  private double referenceLight;
  private double referenceCelsius;

  UnevenLight(EstimatorSettings settings) {
    array = settings.newArray();
    curve = array.curve();
    curve.set(1, 50);
    double warm = curve.openCircuitVolts();
    curve.set(1, 40);
    perKelvin = (warm - curve.openCircuitVolts()) / 10;
    levelVariance = square(LEVEL_VOLTS * array.seriesCells());
    uniform = new UniformLight(levelVariance);
    peaks = new ShadowPeaks(array);
    mixture = new ShadowMixture(settings.shadowShare());
    factors = new ShadowFactors(settings.shadowShare(), scratch);
    reset();
  }

  void reset() {
    airSeconds = 0;
    restart();
  }

  private void restart() {
    started = false;
    since = 0;
    sincePrediction = 0;
    moved = false;
    offsetVariance = levelVariance;
    slopeVariance = 0;
    crossVariance = 0;
    statedSlope = 0;
    middleAmps = 0;
    mixture.reset();
    factors.reset();
    uniform.reset();
  }

  /** Measures the time in the air. */
  void fly(double step, boolean airborne) {
    airSeconds = airborne ? airSeconds + step : 0;
  }

  /** Time in the air since the last reset, s. */
  double airSeconds() {
    return airSeconds;
  }

  /** Processes a sample after its measurement update. */
  void follow(double step, Sample sample, double lagSeconds, HiddenStateFilter filter) {
    since += step;
    if (!(sample.hasVolts && sample.hasAmps) || (started && since < STEP_SECONDS)) {
      return;
    }
    double seconds = Math.min(since, 1);
    since = 0;
    double light = filter.state(LIGHT);
    double celsius = filter.state(CELL);
    if (!started) {
      started = true;
      referenceLight = light;
      referenceCelsius = celsius;
    }
    double clear = 1 - mixture.shadowWeight();
    double certain = cube(mixture.uniformWeight()) / UNIFORM_SECONDS;
    referenceLight += clear * follow(seconds, light - referenceLight, certain);
    referenceCelsius += clear * follow(seconds, celsius - referenceCelsius, 0);
    curve.setAltered(
        Math.exp(referenceLight),
        referenceCelsius,
        Math.exp(filter.state(SERIES)),
        Math.exp(filter.state(IDEALITY)),
        filter.state(State.VOC_COEFF));
    sincePrediction += seconds;
    boolean predicts = sincePrediction > PREDICTION_SECONDS - 0.5 * STEP_SECONDS;
    if (predicts) {
      predict(sincePrediction, filter.lightDrift(), HiddenStateFilter.gapVariance(step));
      sincePrediction = 0;
    }
    double slowness = (lagSeconds + Math.max(step - STEP_SECONDS, 0)) / SHARP_SECONDS;
    double factor = MODEL_FACTOR * (1 + slowness * slowness);
    update(sample, factor, celsius - referenceCelsius, filter);
    if (!healthy()) {
      restart();
      return;
    }
    if (predicts || mixture.shadowWeight() > LIKELY) {
      peaks.take(curve);
      moved = true;
    }
  }

  private static double follow(double seconds, double difference, double falling) {
    double rate = difference > 0 ? 1 / RISING_SECONDS : 1 / FALLING_SECONDS + falling;
    return Math.min(seconds * rate, 1) * difference;
  }

  /** Time update of all hypotheses; the light may have jumped in a gap. */
  private void predict(double seconds, double lightDrift, double jump) {
    double keep = Math.exp(-seconds / LEVEL_SECONDS);
    double keepSlope = Math.exp(-seconds / SLOPE_SECONDS);
    offsetVariance = keep * keep * offsetVariance + (1 - keep * keep) * levelVariance;
    slopeVariance =
        keepSlope * keepSlope * slopeVariance + (1 - keepSlope * keepSlope) * statedSlope;
    crossVariance *= keep * keepSlope;
    double drift = Math.max(lightDrift, EdgeDetector.CALM_LIGHT_DRIFT);
    uniform.predict(keep, keepSlope, statedSlope, drift * drift * seconds + jump);
    mixture.predict(seconds, keep, keepSlope, uniform);
  }

  private void update(Sample sample, double factor, double warmer, HiddenStateFilter filter) {
    int strings = array.parallelStrings();
    reading.take(
        array,
        filter.busVolts(sample),
        filter.busAmps(sample) / strings,
        sample.voltsVariance + sample.voltsReadout + square(Measurement.MODEL_VOLTS),
        (sample.ampsVariance + sample.ampsReadout) / (strings * strings),
        factor);
    if (slopeVariance == 0) {
      middleAmps = reading.amps();
      statedSlope = square(SLOPE_SHARE * reading.ohms());
      slopeVariance = statedSlope;
      uniform.stateSlope(statedSlope);
    }
    double beside = reading.amps() - middleAmps;
    double toOffset = offsetVariance + beside * crossVariance;
    double toSlope = crossVariance + beside * slopeVariance;
    reading.setSlowError(beside, toOffset + beside * toSlope);
    double uniformLog = updateUniform(warmer);
    mixture.update(reading, toOffset, toSlope, uniformLog, scratch);
    double variance = reading.variance(ShadowMixture.CLEAR);
    double gain = toOffset / variance;
    offsetVariance -= gain * toOffset;
    crossVariance -= gain * toSlope;
    slopeVariance -= toSlope / variance * toSlope;
  }

  /** Measurement update under a uniform change of the light; returns its log-likelihood. */
  private double updateUniform(double warmer) {
    double photo = curve.photocurrentAmps();
    double lit = Math.exp(uniform.depth()) * photo;
    double left = lit - reading.amps();
    double thermal = array.seriesCells() * curve.thermalVolts();
    double shift = thermal * FirstPeak.logCurrentRatio(left, reading.diodeAmps(), photo);
    double heat = array.seriesCells() * warmer * perKelvin;
    double perDepth = thermal * lit / Math.max(left, LEAST_UNIFORM_SHARE * photo);
    return uniform.follow(
        reading.volts() - shift - heat,
        reading.beside(),
        perDepth,
        reading.noise(),
        reading.information());
  }

  /**
   * Probability of a shadow, for the bound and the ceiling. It is biased towards shadows: if the
   * readings cannot distinguish them from even light, it is higher than the stated share.
   */
  double probability() {
    return mixture.shadowWeight();
  }

  /** Probability of a shadow, for reporting one: the odds are multiplied by {@link #CLAIM_ODDS}. */
  double claimed() {
    double odds = CLAIM_ODDS * probability();
    return odds / (1 - probability() + odds);
  }

  /**
   * The factors of possible shadows on the values under even light; they are recomputed only if the
   * mixture has changed since the last call.
   *
   * @param median median of the available power under even light, W
   * @param logSd sigma of its logarithm
   * @param available estimate, relative to the median
   * @param low lower bound, relative to the median
   * @return never null; always the same object
   */
  ShadowFactors factors(double median, double logSd, double available, double low) {
    if (moved) {
      moved = false;
      factors.take(mixture, peaks, median, logSd, available, low);
    }
    return factors;
  }

  /** Saves the state; the factors must be up to date with the mixture. */
  void write(StateBytes out) {
    mixture.write(out);
    factors.write(out);
    uniform.write(out);
    out.put(offsetVariance);
    out.put(slopeVariance);
    out.put(crossVariance);
    out.put(statedSlope);
    out.put(middleAmps);
    out.put(since);
    out.put(sincePrediction);
    out.put(started ? 1 : 0);
    out.put(referenceLight);
    out.put(referenceCelsius);
    out.put(airSeconds);
  }

  /** Restores a saved state; reinitialises if its values are not plausible. */
  void read(StateBytes in) {
    mixture.read(in);
    factors.read(in);
    uniform.read(in);
    offsetVariance = in.get();
    slopeVariance = in.get();
    crossVariance = in.get();
    statedSlope = in.get();
    middleAmps = in.get();
    since = in.get();
    sincePrediction = in.get();
    started = in.get() != 0;
    referenceLight = in.get();
    referenceCelsius = in.get();
    airSeconds = in.getNonNegative();
    if (!healthy()) {
      restart();
    }
  }

  private boolean healthy() {
    double all = offsetVariance + slopeVariance + crossVariance + statedSlope + middleAmps;
    all += since + sincePrediction + referenceLight + referenceCelsius;
    boolean own = offsetVariance >= 0 && slopeVariance >= 0 && Math.abs(all) < Double.MAX_VALUE;
    return own && mixture.healthy() && uniform.healthy() && factors.healthy();
  }

  private static double square(double v) {
    return v * v;
  }

  private static double cube(double v) {
    return v * v * v;
  }
}
