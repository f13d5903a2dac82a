package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.CURRENT_GAIN;
import static org.solarmargin.core.estimator.State.CURRENT_OFFSET;
import static org.solarmargin.core.estimator.State.IDEALITY;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.SERIES;
import static org.solarmargin.core.estimator.State.VOLTAGE_GAIN;
import static org.solarmargin.core.estimator.StateBounds.clamp;

import java.util.Arrays;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellCurve;
import org.solarmargin.core.lag.Decay;

/**
 * Whether a fall of the light is a veil over all cells or a shadow on a few: a mixture of
 * hypotheses with weights by Bayes' rule (D. Magill, IEEE Trans. Automatic Control 10, 1965).
 *
 * <p>A few cells with less light than the rest limit the whole string: what can be flown is the
 * first power peak from open circuit down, just under the current that the dim cells give. Far from
 * there they take hardly any voltage, near it the curve becomes steep; a veil moves all cells a
 * little. Each hypothesis predicts the bus voltage at the measured current from the light and
 * temperature before the fall: a veil whose depth is a state, and {@value #DIM} depths of shadow on
 * 1, 2, 4 and 8 cells of each string. The level of the voltage is known to some hundredths of a
 * volt only (temperature, calibration), so each hypothesis carries the mean of a slow offset of its
 * own (Rao-Blackwellised; A. Doucet et al., UAI 2000). Shadows come and go at a rate such that they
 * are there for a stated share of time.
 */
final class UnevenLight {

  private static final int DIM = 13;
  private static final int[] CELLS = {1, 2, 4, 8};

  /** The hypothesis that nothing has changed has the place after the shadows. */
  private static final int SHADOWS = DIM * CELLS.length;

  /** Light of the dim cells over the others': the deepest shadow leaves 0.35. */
  private static final double DIM_STEP = 0.05;

  private static final double STEP_SECONDS = 0.1;

  /** How long a shadow or the lack of one lasts, s. */
  private static final double LASTING_SECONDS = 30;

  /** How long a veil or a clear sky lasts, s. */
  private static final double VEIL_SECONDS = 10;

  /** How long it takes to come by one step of depth, s. */
  private static final double DEEPENING_SECONDS = 3;

  /** Slow error of the voltage's level, V a cell: 1.5 K, 1 sigma; and how long it lasts, s. */
  private static final double LEVEL_VOLTS = 0.0033;

  private static final double LEVEL_SECONDS = 60;

  /** What the cells' own slope may be off by, relative, 1 sigma, and how long that lasts, s. */
  private static final double SLOPE_SHARE = 0.06;

  private static final double SLOPE_SECONDS = 600;

  /** Factor on the variance of a reading: the model's own errors are not white. */
  private static final double MODEL_FACTOR = 4;

  /** Readings that lag by so much or more see the curve's bend as a steeper curve, s. */
  private static final double SHARP_SECONDS = 0.05;

  private static final double RISING_SECONDS = 3;
  private static final double FALLING_SECONDS = 120;
  private static final double NEGLIGIBLE = 0.01;
  private static final double LOWEST = 0.2;
  private static final int BISECTIONS = 12;
  private static final double VEIL_ROOM = 0.02;
  private static final double LEAST_ROOM = 0.001;
  private static final double LEAST_WEIGHT = 1e-12;

  /** How many numbers a written state has. */
  static final int STATE_NUMBERS = 3 * (SHADOWS + 1) + SHADOWS + Veil.STATE_NUMBERS + 11;

  private final SolarArray array;
  private final CellCurve curve;
  private final double share;
  private final double perKelvin;
  private final double levelVariance;
  private final Decay levelMemory = new Decay(LEVEL_SECONDS);
  private final Decay slopeMemory = new Decay(SLOPE_SECONDS);
  private double statedSlope;

  private final double[] weights = new double[SHADOWS + 1];
  private final double[] offsets = new double[SHADOWS + 1];
  private final double[] peakWatts = new double[SHADOWS];
  private final double[] depthLogs = new double[DIM];
  private final double[] slopes = new double[SHADOWS + 1];
  private final Veil veil;
  private double veilWeight;
  private double offsetVariance;
  private double slopeVariance;
  private double crossVariance;
  private double middleAmps;
  private double since;
  private boolean started;
  private double referenceLight;
  private double referenceCelsius;
  private double shadowWeight;

  UnevenLight(EstimatorSettings settings) {
    array = settings.newArray();
    curve = array.curve();
    share = settings.shadowShare();
    curve.set(1, 50);
    double warm = curve.openCircuitVolts();
    curve.set(1, 40);
    perKelvin = (warm - curve.openCircuitVolts()) / 10;
    levelVariance = square(LEVEL_VOLTS * array.seriesCells());
    veil = new Veil(levelVariance);
    reset();
  }

  void reset() {
    started = false;
    since = 0;
    shadowWeight = 0;
    offsetVariance = levelVariance;
    slopeVariance = 0;
    crossVariance = 0;
    statedSlope = 0;
    middleAmps = 0;
    Arrays.fill(slopes, 0);
    Arrays.fill(weights, 0);
    Arrays.fill(offsets, 0);
    Arrays.fill(peakWatts, 0);
    weights[SHADOWS] = 0.5;
    veilWeight = 0.5;
    veil.reset();
  }

  /** Takes a corrected sample. */
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
    double clear = 1 - shadowWeight;
    referenceLight += clear * follow(seconds, light - referenceLight);
    referenceCelsius += clear * follow(seconds, celsius - referenceCelsius);
    curve.setAltered(
        Math.exp(referenceLight),
        referenceCelsius,
        Math.exp(filter.state(SERIES)),
        Math.exp(filter.state(IDEALITY)));
    wander(seconds, filter.lightDrift());
    double slowness = (lagSeconds + Math.max(step - STEP_SECONDS, 0)) / SHARP_SECONDS;
    double factor = MODEL_FACTOR * (1 + slowness * slowness);
    weigh(sample, factor, celsius - referenceCelsius, filter);
    if (!healthy()) {
      reset();
      return;
    }
    peaks();
  }

  private static double follow(double seconds, double difference) {
    double lag = difference > 0 ? RISING_SECONDS : FALLING_SECONDS;
    return Math.min(seconds / lag, 1) * difference;
  }

  /** Shadows come, deepen and go; veils follow the light. */
  private void wander(double seconds, double lightDrift) {
    double keep = levelMemory.keep(seconds);
    double keepSlope = slopeMemory.keep(seconds);
    for (int j = 0; j < offsets.length; j++) {
      offsets[j] *= keep;
      slopes[j] *= keepSlope;
    }
    offsetVariance = keep * keep * offsetVariance + (1 - keep * keep) * levelVariance;
    slopeVariance =
        keepSlope * keepSlope * slopeVariance + (1 - keepSlope * keepSlope) * statedSlope;
    crossVariance *= keep * keepSlope;
    double drift = Math.max(lightDrift, EdgeDetector.CALM_LIGHT_DRIFT);
    veil.wander(keep, keepSlope, statedSlope, drift * drift * seconds);
    double deepening = Math.min(seconds / DEEPENING_SECONDS, 0.3);
    for (int j = 0; j < SHADOWS; j++) {
      if (j % DIM != 0) {
        exchange(j - 1, j, deepening);
      }
    }
    double coming = share * Math.min(seconds / LASTING_SECONDS, 0.5);
    double going = (1 - share) * Math.min(seconds / LASTING_SECONDS, 0.5);
    double changing = Math.min(seconds / VEIL_SECONDS, 0.5);
    double fromVeil = veilWeight;
    double fromClear = weights[SHADOWS];
    for (int j = 0; j < SHADOWS; j++) {
      double leaves = going * weights[j];
      weights[j] -= leaves;
      give(SHADOWS, offsets[j], slopes[j], leaves);
      double part = (0.3 / DIM + (j % DIM < 2 ? 0.35 : 0)) / CELLS.length;
      give(j, veil.offset(), veil.slope(), coming * part * fromVeil);
      give(j, offsets[SHADOWS], slopes[SHADOWS], coming * part * fromClear);
    }
    weights[SHADOWS] -= (coming + changing) * fromClear;
    give(SHADOWS, veil.offset(), veil.slope(), changing * fromVeil);
    veilWeight += changing * fromClear - (coming + changing) * fromVeil;
  }

  private void exchange(int a, int b, double part) {
    double fromA = part * weights[a];
    double fromB = part * weights[b];
    double offsetA = offsets[a];
    double slopeA = slopes[a];
    weights[a] -= fromA;
    weights[b] -= fromB;
    give(a, offsets[b], slopes[b], fromB);
    give(b, offsetA, slopeA, fromA);
  }

  private void give(int to, double offset, double slope, double weight) {
    double sum = weights[to] + weight;
    if (sum > 0) {
      offsets[to] += weight / sum * (offset - offsets[to]);
      slopes[to] += weight / sum * (slope - slopes[to]);
      weights[to] = sum;
    }
  }

  private void weigh(Sample sample, double factor, double warmer, HiddenStateFilter filter) {
    int series = array.seriesCells();
    double volts = sample.volts / (1 + filter.state(VOLTAGE_GAIN));
    double amps = (sample.amps - filter.state(CURRENT_OFFSET)) / (1 + filter.state(CURRENT_GAIN));
    double cellAmps = amps / array.parallelStrings();
    double thermal = curve.thermalVolts();
    double photo = curve.photocurrentAmps();
    double room = Math.max(photo - cellAmps, LEAST_ROOM * photo);
    double residual = volts - series * curve.voltsAt(Math.min(cellAmps, photo));
    double slope = series * (thermal / room + curve.seriesOhms()) / array.parallelStrings();
    double noise =
        factor
            * (sample.voltsVariance
                + sample.voltsReadout
                + square(Measurement.MODEL_VOLTS)
                + slope * slope * (sample.ampsVariance + sample.ampsReadout));
    for (int d = 0; d < DIM; d++) {
      depthLogs[d] = thermal * FirstPeak.logRoom(dim(d) * photo - cellAmps, room, photo);
    }
    if (slopeVariance == 0) {
      middleAmps = cellAmps;
      statedSlope = square(SLOPE_SHARE * slope * array.parallelStrings());
      slopeVariance = statedSlope;
      veil.stateSlope(statedSlope);
    }
    double beside = cellAmps - middleAmps;
    double toOffset = offsetVariance + beside * crossVariance;
    double toSlope = crossVariance + beside * slopeVariance;
    double variance = toOffset + beside * toSlope + noise;
    double gain = toOffset / variance;
    double slopeGain = toSlope / variance;
    double veilLog = followVeil(residual, noise, beside, room, photo, cellAmps, warmer);
    double best = veilLog;
    for (int j = 0; j <= SHADOWS; j++) {
      best = Math.max(best, logLikelihood(innovation(j, residual, cellAmps), variance));
    }
    veilWeight *= Math.exp(veilLog - best);
    double total = veilWeight;
    for (int j = 0; j <= SHADOWS; j++) {
      double y = innovation(j, residual, cellAmps);
      weights[j] *= Math.exp(logLikelihood(y, variance) - best);
      offsets[j] += gain * y;
      slopes[j] += slopeGain * y;
      total += weights[j];
    }
    offsetVariance -= gain * toOffset;
    crossVariance -= gain * toSlope;
    slopeVariance -= slopeGain * toSlope;
    double shadows = 0;
    for (int j = 0; j < SHADOWS; j++) {
      weights[j] = Math.max(weights[j] / total, LEAST_WEIGHT);
      shadows += weights[j];
    }
    weights[SHADOWS] = Math.max(weights[SHADOWS] / total, LEAST_WEIGHT);
    veilWeight = Math.max(veilWeight / total, LEAST_WEIGHT);
    shadowWeight = Math.min(shadows, 1);
  }

  static double logLikelihood(double y, double variance) {
    return -0.5 * (y * y / variance + Math.log(variance));
  }

  /** Corrects the veil; returns the logarithm of its likelihood. */
  private double followVeil(
      double residual,
      double noise,
      double beside,
      double room,
      double photo,
      double cellAmps,
      double warmer) {
    double lit = Math.exp(veil.depth()) * photo;
    double thermal = array.seriesCells() * curve.thermalVolts();
    double shift = thermal * FirstPeak.logRoom(lit - cellAmps, room, photo);
    double heat = array.seriesCells() * warmer * perKelvin;
    double perDepth = thermal * lit / Math.max(lit - cellAmps, VEIL_ROOM * photo);
    return veil.follow(residual - shift - heat, beside, perDepth, noise);
  }

  private double innovation(int j, double residual, double cellAmps) {
    double shift = j == SHADOWS ? 0 : CELLS[j / DIM] * depthLogs[j % DIM];
    return residual - shift - expected(j, cellAmps);
  }

  private double expected(int j, double cellAmps) {
    return offsets[j] + slopes[j] * (cellAmps - middleAmps);
  }

  private static double dim(int depth) {
    return 1 - (depth + 1) * DIM_STEP;
  }

  /** First power peaks under the shadows. */
  private void peaks() {
    for (int j = 0; j < SHADOWS; j++) {
      peakWatts[j] =
          weights[j] < 1e-4 ? peakWatts[j] : FirstPeak.watts(array, CELLS[j / DIM], dim(j % DIM));
    }
  }

  /** Probability that a few cells have less light than the rest. */
  double probability() {
    return shadowWeight;
  }

  /**
   * Available power that is exceeded with a probability of one less the given one.
   *
   * @param below probability that less is available, 0 to 1
   * @param trust factor on the odds of shadows, 0 to 1: what else they must prove
   * @param even the same quantile where the light is even, W
   * @param median of the available power where the light is even, W
   * @param logSd sigma of its logarithm
   */
  double quantile(double below, double trust, double even, double median, double logSd) {
    double clear = 1 - shadowWeight;
    double scale = trust / (clear + trust * shadowWeight);
    if (!(scale * shadowWeight > NEGLIGIBLE)) {
      return even;
    }
    double low = LOWEST * even;
    double high = even;
    for (int i = 0; i < BISECTIONS; i++) {
      double x = 0.5 * (low + high);
      double p = (1 - scale * shadowWeight) * normal(Math.log(x / median) / logSd);
      for (int j = 0; j < SHADOWS; j++) {
        // a peak stands between two depths: it counts from half a step below on
        p += scale * weights[j] * clamp(0.5 + (x / peakWatts[j] - 1) / DIM_STEP, 0, 1);
      }
      if (p > below) {
        high = x;
      } else {
        low = x;
      }
    }
    return 0.5 * (low + high);
  }

  /** Normal distribution function (logistic approximation, within 0.01). */
  private static double normal(double z) {
    return 1 / (1 + Math.exp(-1.702 * z));
  }

  /** Writes the state: STATE_NUMBERS numbers. */
  void write(StateBytes out) {
    out.putAll(weights);
    out.putAll(offsets);
    out.putAll(slopes);
    out.putAll(peakWatts);
    veil.write(out);
    out.put(veilWeight);
    out.put(offsetVariance);
    out.put(slopeVariance);
    out.put(crossVariance);
    out.put(statedSlope);
    out.put(middleAmps);
    out.put(since);
    out.put(started ? 1 : 0);
    out.put(referenceLight);
    out.put(referenceCelsius);
    out.put(shadowWeight);
  }

  /** Takes up a written state; begins anew if it is none. */
  void read(StateBytes in) {
    in.getAll(weights);
    in.getAll(offsets);
    in.getAll(slopes);
    in.getAll(peakWatts);
    veil.read(in);
    veilWeight = in.get();
    offsetVariance = in.get();
    slopeVariance = in.get();
    crossVariance = in.get();
    statedSlope = in.get();
    middleAmps = in.get();
    since = in.get();
    started = in.get() != 0;
    referenceLight = in.get();
    referenceCelsius = in.get();
    shadowWeight = in.get();
    if (!healthy()) {
      reset();
    }
  }

  /** Whether weights are weights, and all else is finite. */
  private boolean healthy() {
    double sum = veilWeight;
    double all = offsetVariance + slopeVariance + crossVariance + statedSlope + middleAmps;
    all += since + referenceLight + referenceCelsius;
    boolean positive = veilWeight >= 0 && offsetVariance >= 0 && slopeVariance >= 0;
    for (int j = 0; j <= SHADOWS; j++) {
      positive &= weights[j] >= 0;
      sum += weights[j];
      all += offsets[j] + slopes[j];
    }
    boolean weighed = Math.abs(sum - 1) < 0.5 && shadowWeight >= 0 && shadowWeight <= 1;
    return positive && weighed && veil.healthy() && Math.abs(all) < Double.MAX_VALUE;
  }

  private static double square(double v) {
    return v * v;
  }
}
