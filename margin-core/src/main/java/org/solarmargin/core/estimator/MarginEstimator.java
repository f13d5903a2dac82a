package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.PROPULSION;

import org.solarmargin.core.align.CommonMean;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.lag.FirstOrderLag;
import org.solarmargin.core.rotor.RotorLoad;
import org.solarmargin.core.state.StateBytes;
import org.solarmargin.core.timing.TimeModel;

/**
 * Turns bus voltage, bus current and throttle into live power margin.
 *
 * <p>One sample in, one {@link MarginReading} out. Samples must have passed the {@link
 * org.solarmargin.core.gate.SampleGate}. The hidden state is followed by a Kalman filter whose
 * states are light, cell temperature, rotor speed, gust, propulsion constant, winding resistance
 * and air; the maximum power point is solved at that state and its variance is carried through the
 * gradient there, with the stated errors of sensors and cells.
 *
 * <p>Range: 2 Hz to 1 kHz, 0.03 to 2.2 suns, cells at -50 to 130 degrees Celsius. Accuracy: see
 * {@code ACCURACY.md}, which states rms, coverage and gap by family with the command that measures
 * them. Fixed cost, no allocation after construction, no clock, no thread; one thread at a time.
 */
public final class MarginEstimator {

  /** Length of a saved state, bytes. */
  public static final int STATE_BYTES = 836 + UnevenLight.STATE_BYTES + Double.BYTES;

  private static final int STATE_MARK = 0x534d5253;
  private static final int STATE_VERSION = 7;

  /** Normal deviate that 95 % of the probability lies above. */
  private static final double ONE_SIDED_95 = 1.6449;

  /** What the uniform single-diode array leaves (unequal cells, wiring): relative, 1 sigma. */
  static final double MODEL_LOG_SD = 0.016;

  /**
   * What a weak cell takes from the knee that nothing shows before the knee, 1 sigma: common
   * practice, no source. It grows with the load, for far from the knee the rest is wider anyway.
   */
  private static final double KNEE_LOG_SD = 0.03;

  private static final double FAR_LOAD = 0.6;
  private static final double NEAR_LOAD = 0.85;

  /**
   * Far from the knee, where light is seen poorly and nobody needs the last watt, the estimate
   * stands this many sigmas under its median: too much costs a craft, too little a detour.
   */
  private static final double LOW_LOAD_BIAS_SIGMAS = 0.16;

  private static final double BIASED_BELOW_LOAD = 0.55;
  private static final double PLAIN_LOAD = 0.75;

  /**
   * Where the time model is in doubt the ceiling stands this many sigmas of that doubt lower: it is
   * held by controllers, and readings that are averaged come late. Chosen on a slow fade flown
   * under the ceiling, which passed the knee without it ({@code HoldTheCeilingTest}).
   */
  private static final double CEILING_SIGMAS = 0.5;

  /** Probabilities of uneven light from and to which the ceiling turns to a lower quantile. */
  private static final double UNEVEN_FROM = 0.05;

  private static final double UNEVEN_TO = 0.3;

  /** The same from and to which it takes the voltage at which a shadow cuts the curve off. */
  private static final double CUT_FROM = 0.5;

  private static final double CUT_TO = 0.8;

  private static final double SHARP_LOG_SD = 0.05;
  private static final double WARM_LOG_SD = 0.15;
  private static final double WARM_SECONDS = 3;

  /** Propulsion and light are still found before, and innovations are not white. */
  private static final double WATCHED_FROM_SECONDS = 6;

  /** The first readings of a flight are taken one by one, so that there is an estimate. */
  private static final double AVERAGED_FROM_SECONDS = 1;

  private static final double HOLD_FROM_SECONDS = 0.5;

  /** At slower rates a sample is too dear to wait for the next. */
  private static final double HOLD_STEP_SECONDS = 0.25;

  private static final int MOST_HELD = 3;
  private static final double AGREE_SIGMAS = 8;
  private static final double AGREE_SHARE = 0.1;
  private static final double DEMAND_SECONDS = 0.1;

  /** Past the knee by the model: bus voltage this share under the knee's, for this long. */
  private static final double KNEE_SHARE = 0.03;

  private static final double KNEE_SECONDS = 0.1;
  private static final double LONGEST_STEP_SECONDS = 3600;
  private static final double LONGEST_WAIT = 2;

  /** Saved before the state of the filter: started, airborne, seconds in the air. */
  private static final int FLIGHT_NUMBERS = 3;

  private static final double NANOS = 1e-9;

  private final EstimatorSettings settings;
  private final AlignedFilter main;
  private final PowerPeak peak;
  private final KneeWitness witness = new KneeWitness();
  private final LiveTiming timing;
  private final UnevenLight uneven;
  private final MarginTrend trend = new MarginTrend();
  private final StateBytes bytes = new StateBytes(STATE_BYTES);
  private final int fingerprint;
  private final FirstOrderLag demandLag = new FirstOrderLag(DEMAND_SECONDS);
  private final AirborneWatch flight;
  private final OutlierWatch outliers = new OutlierWatch();
  private final Checkpoint checkpoint = new Checkpoint();

  private final CommonMean mean = new CommonMean();
  private boolean averaging;
  private boolean advanced;
  private long clockNanos;
  private long readingNanos;
  private double lastThrottle;
  private boolean held;
  private int heldCount;
  private double heldVolts;
  private double heldAmps;
  private double steadyDemand;
  private double ceilingEmf;
  private double pastKneeSeconds;
  private boolean modelSeesKnee;
  private double alertLow;
  private double evenSeconds;

  /**
   * An estimator that has seen nothing.
   *
   * @param settings what is known of the craft, not null
   */
  public MarginEstimator(EstimatorSettings settings) {
    this.settings = settings;
    this.main = new AlignedFilter(settings, settings.timing());
    this.peak = new PowerPeak(main.array());
    this.timing = new LiveTiming(settings);
    this.uneven = new UnevenLight(settings);
    fingerprint = settings.hashCode();
    this.flight = new AirborneWatch(settings.rotor().hoverThrottle());
    reset();
  }

  /** Back to the state after construction. */
  public void reset() {
    main.reset();
    timing.reset();
    main.configure(timing.model());
    uneven.reset();
    witness.reset();
    trend.reset();
    advanced = false;
    averaging = false;
    mean.reset();
    clockNanos = 0;
    readingNanos = 0;
    lastThrottle = 0;
    held = false;
    heldCount = 0;
    flight.reset();
    steadyDemand = 0;
    ceilingEmf = 0;
    pastKneeSeconds = 0;
    modelSeesKnee = false;
    alertLow = 0;
    evenSeconds = 0;
    outliers.reset();
    checkpoint.reset();
  }

  /**
   * Takes one sample whose readings and throttle come together.
   *
   * @param seconds since the last call of this method, more than 0; ignored for the first
   * @param busVolts V, 0 or more, finite
   * @param busAmps A, finite
   * @param throttle mean motor command, 0 to 1
   * @param cellCelsius measured cell temperature, degrees Celsius; NaN if there is none
   * @param out filled with the new reading
   * @return as {@link #reading}
   */
  public boolean update(
      double seconds,
      double busVolts,
      double busAmps,
      double throttle,
      double cellCelsius,
      MarginReading out) {
    clockNanos += Math.round(Math.min(seconds, LONGEST_STEP_SECONDS) / NANOS);
    command(clockNanos, throttle);
    return reading(clockNanos, busVolts, busAmps, cellCelsius, out);
  }

  /**
   * Takes a command to the motors.
   *
   * @param nanos when it was given, ns, not before the last one
   * @param throttle mean motor command, 0 to 1
   */
  public void command(long nanos, double throttle) {
    main.command(nanos, throttle);
    flight.follow(nanos, throttle);
    lastThrottle = throttle;
  }

  /**
   * Takes a reading of the bus. All commands up to its instant must have been given.
   *
   * @param nanos when it was read, ns, after the last reading
   * @param busVolts V, 0 or more; NaN if this one is not fresh
   * @param busAmps A; NaN if this one is not fresh
   * @param cellCelsius measured cell temperature, degrees Celsius; NaN if there is none
   * @param out filled with the new reading; left alone where the reading brings no newer instant
   * @return false if the sample stands so far off that one more is awaited: {@code out} is then
   *     coasting
   */
  public boolean reading(
      long nanos, double busVolts, double busAmps, double cellCelsius, MarginReading out) {
    if (flight.airborne()) {
      double since = Math.max((nanos - readingNanos) * NANOS, 0);
      timing.reading(Math.min(since, LONGEST_WAIT), nanos, lastThrottle, busVolts, busAmps);
    }
    readingNanos = nanos;
    advanced = false;
    averaging = !timing.model().throttleUsed() && flight.seconds() > AVERAGED_FROM_SECONDS;
    if (!averaging) {
      mean.reset();
      main.reading(nanos, busVolts, busAmps, cellCelsius, 1);
    } else if (mean.take(nanos, busVolts, busAmps)) {
      main.reading(nanos, mean.volts(), mean.amps(), cellCelsius, mean.count());
    } else {
      return true;
    }
    boolean first = !main.started();
    while (main.predict()) {
      advanced = true;
      correct(first, busWatts(busVolts, busAmps, main.sample()), out);
      first = false;
    }
    return !(advanced && held);
  }

  private void correct(boolean first, double busWatts, MarginReading out) {
    Sample sample = main.sample();
    double step = Math.min(main.elapsedSeconds(), LONGEST_STEP_SECONDS);
    double demand = Math.max(busWatts, 0);
    if (first) {
      steadyDemand = demand;
    }
    boolean mayHold =
        !first
            && step < HOLD_STEP_SECONDS
            && flight.seconds() > HOLD_FROM_SECONDS
            && heldCount < MOST_HELD
            && !(held && agrees(sample.volts, sample.amps));
    held = !main.correct(mayHold);
    heldCount = held ? heldCount + 1 : 0;
    heldVolts = sample.volts;
    heldAmps = sample.amps;
    if (!main.filter().healthy()) {
      restart();
    }
    HiddenStateFilter filter = main.filter();
    timing.outlier(filter.outlierSize());
    followOutliers(step, held || filter.outlier());
    if (held) {
      report(out, Status.SENSOR_FAULT, demand, 0);
      return;
    }
    boolean settled = flight.seconds() > WATCHED_FROM_SECONDS && !modelSeesKnee;
    if (!outliers.burst() && timing.follow(step, settled, sample, filter)) {
      main.configure(timing.model());
      if (timing.onTrial()) {
        // what was learned without the throttle, or before it was left out, may not be of this
        // craft
        forget();
      }
    }
    follow(step, sample, Math.max(filter.volts() * filter.amps(), 0));
    evenSeconds = flight.airborne() ? evenSeconds + step : 0;
    if (evenSeconds > WATCHED_FROM_SECONDS && !modelSeesKnee && !witness.sees()) {
      uneven.follow(step, sample, timing.model().longestFilterSeconds(), filter);
    }
    report(out, null, demand, step);
  }

  /** Keeps a state while there are no outliers, and returns to it when a burst has ended. */
  private void followOutliers(double step, boolean outlier) {
    boolean before = outliers.burst();
    boolean past = modelSeesKnee || witness.sees() || flight.seconds() < WATCHED_FROM_SECONDS;
    boolean ended = outliers.follow(step, outlier && !past);
    if (outliers.burst() && !before) {
      timing.disturbed();
    }
    if (ended) {
      recover();
    } else if (outliers.quiet()
        && flight.seconds() > WATCHED_FROM_SECONDS
        && checkpoint.due(step)) {
      save(checkpoint.keep(main.sample().nanos));
    }
  }

  /** After a burst of outliers: back to what was known before it, or to the beginning. */
  private void recover() {
    timing.disturbed();
    if (!checkpoint.kept() || !startReading(checkpoint.state())) {
      forget();
      return;
    }
    main.filter().reset();
    skipFlight();
    readState();
    main.returnFrom(checkpoint.nanos());
    checkpoint.reset();
  }

  /** Back to the beginning of the flight, warming up. */
  private void forget() {
    restart();
    uneven.reset();
    checkpoint.reset();
  }

  /**
   * Whether the last reading brought an instant newer than those before, which both sensors know.
   *
   * @return false if the estimate stands as it was
   */
  public boolean advanced() {
    return advanced;
  }

  /**
   * Whether readings are averaged over a short time, because the instants to which they belong are
   * not known: most then bring no newer instant by themselves.
   *
   * @return true while the time model leaves the throttle out
   */
  public boolean averaging() {
    return averaging;
  }

  /** Measured power; of the aligned readings where one of the two is not fresh. */
  private static double busWatts(double busVolts, double busAmps, Sample sample) {
    double watts = busVolts * busAmps;
    return Double.isNaN(watts) ? sample.volts * sample.amps : watts;
  }

  /**
   * Lets time pass without a usable reading: the interval grows and the status says so.
   *
   * @param nanos the time now, ns
   * @param out filled with the coasting reading
   */
  public void coast(long nanos, MarginReading out) {
    if (!main.started()) {
      return;
    }
    main.coast(nanos);
    if (!main.filter().healthy()) {
      restart();
    }
    report(out, Status.SENSOR_FAULT, steadyDemand, 0);
  }

  /**
   * Whether the rotors carry the craft, as the throttle shows.
   *
   * @return true from the first sample above 40 % of the hover throttle until half a second below
   *     it
   */
  public boolean airborne() {
    return flight.airborne();
  }

  /**
   * Lower bound by which alerts go: that of the reading, but for a shadow on a few cells that there
   * is little evidence of.
   *
   * @return W, at or above the reading's lower bound
   */
  public double alertLowWatts() {
    return alertLow;
  }

  /**
   * Whether the model puts the operating point past the knee.
   *
   * @return true after 0.1 s at 3 % or more under the knee's voltage
   */
  public boolean modelSeesKnee() {
    return modelSeesKnee;
  }

  /**
   * Whether throttle went up with power going down, a sign of the far side that needs no model.
   *
   * @return true after 0.15 s of it
   */
  public boolean witnessSeesKnee() {
    return flight.airborne() && witness.sees();
  }

  /**
   * How far voltage and current of the last corrected sample stood from what was expected of them,
   * squared over its covariance. If model and stated errors are right its mean is 2 (chi-squared of
   * two degrees); below, the interval is wider than it need be; lastingly far above, the profile or
   * a sensor is wrong.
   *
   * @return 0 or more; 2 before the first sample
   */
  public double normalisedInnovation() {
    return main.filter().normalisedInnovation();
  }

  /**
   * The time model in use.
   *
   * @return never null
   */
  public TimeModel timing() {
    return timing.model();
  }

  /**
   * Where the time model in use comes from.
   *
   * @return never null
   */
  public TimingStatus timingStatus() {
    return timing.status();
  }

  /**
   * Saves the state, for a restart in flight: versioned and checked. Allocates nothing.
   *
   * @param to at least {@link #STATE_BYTES} long
   * @throws IllegalArgumentException if {@code to} is too short
   */
  public void save(byte[] to) {
    if (to.length < STATE_BYTES) {
      throw new IllegalArgumentException("save needs " + STATE_BYTES + " bytes: " + to.length);
    }
    bytes.startWriting(to, 0);
    bytes.putInt(STATE_MARK);
    bytes.putInt(STATE_VERSION);
    bytes.putInt(fingerprint);
    bytes.putInt(0);
    bytes.put(main.started() ? 1 : 0);
    bytes.put(flight.airborne() ? 1 : 0);
    bytes.put(flight.seconds());
    bytes.put(steadyDemand);
    main.filter().write(bytes);
    bytes.put(evenSeconds);
    uneven.write(bytes);
    bytes.finishWriting();
  }

  /**
   * Takes up a saved state, made by the same version with equal settings. The next {@link
   * #update}'s step is the time since the save. A damaged or foreign state is refused, and the
   * estimator starts afresh.
   *
   * @param from what {@link #save} wrote
   * @param nanos when it was saved, on the clock of the samples to come, ns
   * @return true if taken up
   */
  public boolean restore(byte[] from, long nanos) {
    reset();
    if (!startReading(from)) {
      return false;
    }
    boolean started = bytes.get() != 0;
    boolean airborne = bytes.get() != 0;
    flight.resume(nanos, airborne, Math.max(bytes.get(), 0));
    readState();
    if (!started || !main.filter().healthy()) {
      reset();
      return false;
    }
    main.resume(nanos);
    clockNanos = nanos;
    return true;
  }

  /** Whether a state is whole, of this version and of these settings. */
  private boolean startReading(byte[] from) {
    return bytes.startReading(from, 0)
        && bytes.getInt() == STATE_MARK
        && bytes.getInt() == STATE_VERSION
        && bytes.getInt() == fingerprint
        && bytes.getInt() == 0;
  }

  /** Whether the craft flies, and since when, is not taken back. */
  private void skipFlight() {
    for (int i = 0; i < FLIGHT_NUMBERS; i++) {
      bytes.get();
    }
  }

  private void readState() {
    steadyDemand = Math.max(bytes.get(), 0);
    main.filter().read(bytes);
    main.filter().setAirborne(flight.airborne(), flight.seconds());
    evenSeconds = Math.max(bytes.get(), 0);
    uneven.read(bytes);
  }

  /** Readings that no craft gives have made the state infinite: reinitialise, warming up. */
  private void restart() {
    main.restart();
    trend.reset();
    flight.resume(main.sample().nanos, flight.airborne(), 0);
    held = false;
  }

  /** Whether a sample says what the one held back said: then it is no spike. */
  private boolean agrees(double busVolts, double busAmps) {
    EstimatorSettings.Sensors sensors = settings.sensors();
    return close(busVolts, heldVolts, sensors.voltageNoiseVolts())
        && close(busAmps, heldAmps, sensors.currentNoiseAmps());
  }

  private static boolean close(double a, double b, double noise) {
    return Math.abs(a - b)
        <= AGREE_SIGMAS * noise + AGREE_SHARE * Math.max(Math.abs(a), Math.abs(b));
  }

  private void follow(double step, Sample sample, double watts) {
    main.filter().setAirborne(flight.airborne(), flight.seconds());
    steadyDemand += demandLag.share(step) * (watts - steadyDemand);
    witness.update(step, sample.throttle, Math.max(sample.volts * sample.amps, 0));
  }

  private void report(MarginReading out, Status forced, double demand, double step) {
    peak.solve();
    double median = peak.watts();
    double load = steadyDemand / Math.max(median, 1e-9);
    double near = ramp(load, FAR_LOAD, NEAR_LOAD);
    double modelVariance =
        square(MODEL_LOG_SD) + square(near * KNEE_LOG_SD) + square(timing.doubtLogSd());
    double logSd =
        Math.sqrt(
            main.filter().covariance().variance(peak.gradient(), PowerPeak.STATES) + modelVariance);
    double far = 1 - ramp(load, BIASED_BELOW_LOAD, PLAIN_LOAD);
    double bias = (LOW_LOAD_BIAS_SIGMAS * far + timing.biasSigmas()) * logSd;
    double evenShare = bias > 0 ? Math.exp(-bias) : 1;
    // a spread that is no number means that nothing is sure
    double lowShare = logSd >= 0 ? Math.exp(-ONE_SIDED_95 * logSd) : 0;
    ShadowFactors shadow = uneven.factors(median, logSd, evenShare, lowShare);
    alertLow = shadow.alertBound() * lowShare * median;
    double available = shadow.estimate() * evenShare * median;
    double low = Math.min(shadow.bound() * lowShare * median, available);
    double ohms = main.filter().ohms();
    double propulsion = Math.exp(main.filter().state(PROPULSION));
    double caution = ramp(uneven.probability(), UNEVEN_FROM, UNEVEN_TO);
    double careful = Math.min(shadow.ceilingBound() * lowShare * median, available);
    double sure = Math.exp(-CEILING_SIGMAS * timing.doubtLogSd());
    double within = sure * (available + caution * (careful - available));
    double motorWatts = within - settings.rotor().housekeepingWatts();
    ceilingEmf = RotorLoad.backEmfFor(motorWatts, ohms, propulsion, ceilingEmf);
    double volts = peak.volts();
    double cut = ramp(uneven.probability(), CUT_FROM, CUT_TO);
    if (cut > 0) {
      volts += cut * (peak.voltsAbove(Math.min(within, median)) - volts);
    }
    double ceiling = RotorLoad.windingVolts(ceilingEmf, ohms, propulsion) / volts;
    if (forced == null) {
      trend.update(step, alertLow, steadyDemand);
      boolean under = flight.airborne() && main.filter().volts() < (1 - KNEE_SHARE) * peak.volts();
      pastKneeSeconds = under ? pastKneeSeconds + step : 0;
      modelSeesKnee = under && pastKneeSeconds >= KNEE_SECONDS;
    }
    out.setStatus(forced == null ? judge(logSd) : forced);
    out.setAvailable(available, low);
    out.setDemand(demand, steadyDemand);
    out.setPeak(peak.volts(), Math.min(ceiling, 1));
    out.setSecondsToZero(trend.secondsToZero());
    out.setCells(main.filter().suns(), main.filter().state(CELL));
    out.setUnevenLight(uneven.claimed());
    out.setThermometerLeftOut(main.filter().thermometerLeftOut());
  }

  /** Median of the available power at the last report, W: for tests of the filter alone. */
  double medianWatts() {
    return peak.watts();
  }

  /** Sigma of its logarithm by the filter's covariance alone, for tests. */
  double filterLogSd() {
    return Math.sqrt(main.filter().covariance().variance(peak.gradient(), PowerPeak.STATES));
  }

  /** A hidden state, for tests. */
  double state(int index) {
    return main.filter().state(index);
  }

  /** Its sigma, for tests. */
  double stateSd(int index) {
    return Math.sqrt(main.filter().covariance().get(index, index));
  }

  /** 0 up to {@code from}, 1 from {@code to} on, straight between. */
  private static double ramp(double value, double from, double to) {
    return Math.min(Math.max((value - from) / (to - from), 0), 1);
  }

  private Status judge(double logSd) {
    if (!flight.airborne()) {
      return Status.IDLE;
    }
    if (modelSeesKnee || witness.sees()) {
      return Status.PAST_KNEE;
    }
    if (flight.seconds() < WARM_SECONDS || logSd > WARM_LOG_SD) {
      return Status.WARMING_UP;
    }
    boolean sharp = logSd <= SHARP_LOG_SD && timing.model().throttleUsed() && !outliers.burst();
    return sharp ? Status.SHARP : Status.COARSE;
  }

  private static double square(double v) {
    return v * v;
  }
}
