package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;

import org.solarmargin.core.align.CommonMean;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.timing.TimeModel;

/**
 * Estimates the live power margin from bus voltage, bus current and throttle.
 *
 * <p>Each sample yields one {@link MarginReading}. Samples must have passed the {@link
 * org.solarmargin.core.gate.SampleGate}. A Kalman filter estimates light, cell temperature, rotor
 * speed, gust, propulsion constant, winding resistance and air temperature; the maximum power point
 * is solved at that state, and its variance follows from the gradient there, including the stated
 * errors of sensors and cells.
 *
 * <p>Range: 2 Hz to 1 kHz, 0.03 to 2.2 suns, cells at -25 to 100 degrees Celsius. Accuracy: see
 * {@code ACCURACY.md}, which states rms error, coverage and gap by family with the command that
 * measures them. The cost of an update is bounded; there is no allocation after construction, no
 * clock and no thread of its own; one thread at a time.
 */
public final class MarginEstimator {

  /** Length of a saved state, bytes. */
  public static final int STATE_BYTES = SavedState.BYTES;

  private static final double SHARP_LOG_SD = 0.05;
  private static final double WARM_LOG_SD = 0.15;
  private static final double WARM_SECONDS = 3;

  /**
   * Time in the air before which innovations are not white, because propulsion constant and light
   * are still converging, s.
   */
  static final double WATCHED_FROM_SECONDS = 6;

  /** Time in the air before which readings are not averaged, so that there is an estimate, s. */
  private static final double AVERAGED_FROM_SECONDS = 1;

  private static final double HOLD_FROM_SECONDS = 0.5;

  /** Longest step at which an update may be deferred, s: beyond it the latency is too long. */
  private static final double HOLD_STEP_SECONDS = 0.25;

  private static final int MOST_HELD = 3;

  private static final double AGREE_SIGMAS = 8;
  private static final double AGREE_SHARE = 0.1;

  private static final double LONGEST_STEP_SECONDS = 3600;
  private static final double LONGEST_WAIT = 2;

  private static final double NANOS = 1e-9;

  private final EstimatorSettings settings;
  private final AlignedFilter main;
  private final PowerPeak peak;
  private final KneeDetector kneeDetector = new KneeDetector();
  private final LiveTiming timing;
  private final UnevenLight uneven;
  private final MarginTrend trend = new MarginTrend();
  private final SteadyDemand steadyDemand = new SteadyDemand();
  private final FaultBias fault = new FaultBias();
  private final AirborneWatch flight;
  private final SavedState saved;
  private final Recovery recovery;
  private final PowerBounds power;
  private final ThrottleCeiling ceiling;
  private final BelowKneeWatch belowKnee = new BelowKneeWatch();

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

  /**
   * Creates an estimator that has received no sample.
   *
   * @param settings prior knowledge of the craft, not null
   */
  public MarginEstimator(EstimatorSettings settings) {
    this.settings = settings;
    this.main = new AlignedFilter(settings, settings.timing());
    this.peak = new PowerPeak(main.array());
    this.timing = new LiveTiming(settings);
    this.uneven = new UnevenLight(settings);
    this.flight = new AirborneWatch(settings.rotor());
    this.saved = new SavedState(main, flight, uneven, steadyDemand, fault, settings);
    this.recovery = new Recovery(main, peak, timing, flight, saved);
    this.power = new PowerBounds(main, peak, uneven, timing, fault);
    this.ceiling = new ThrottleCeiling(main, peak, uneven, timing, settings.rotor());
    reset();
  }

  /** Returns to the state after construction. */
  public void reset() {
    main.reset();
    timing.reset();
    main.configure(timing.model());
    uneven.reset();
    kneeDetector.reset();
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
    steadyDemand.start(0);
    fault.reset();
    power.reset();
    ceiling.reset();
    belowKnee.reset();
    recovery.reset();
  }

  /**
   * Processes one sample that has both readings and throttle.
   *
   * @param seconds time since the last call of this method, s, more than 0; ignored for the first
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
   * Processes a command to the motors.
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
   * Processes a reading of the bus. All commands up to its instant must have been passed before.
   *
   * @param nanos when it was read, ns, after the last reading
   * @param busVolts V, 0 or more; NaN if this one is not fresh
   * @param busAmps A; NaN if this one is not fresh
   * @param cellCelsius measured cell temperature, degrees Celsius; NaN if there is none. It is used
   *     once, with the next instant that is due.
   * @param out filled with the new reading; not changed if no newer instant is due
   * @return false if the sample is an outlier and its update is deferred to the next sample: {@code
   *     out} then holds the prediction
   */
  public boolean reading(
      long nanos, double busVolts, double busAmps, double cellCelsius, MarginReading out) {
    if (flight.airborne()) {
      double since = Math.max((nanos - readingNanos) * NANOS, 0);
      timing.reading(Math.min(since, LONGEST_WAIT), nanos, lastThrottle, busVolts, busAmps);
    }
    readingNanos = nanos;
    advanced = false;
    // the first pair is taken as it comes, and a channel alone gives no estimate
    averaging =
        main.started()
            && !timing.model().throttleUsed()
            && flight.seconds() > AVERAGED_FROM_SECONDS;
    if (!averaging) {
      mean.reset();
      main.reading(nanos, busVolts, busAmps, cellCelsius, 1);
    } else if (mean.take(nanos, busVolts, busAmps)) {
      main.reading(nanos, mean.volts(), mean.amps(), cellCelsius, mean.count());
    } else {
      main.temperature(cellCelsius);
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

  /**
   * Processes a cell temperature that arrives without a usable reading of the bus: it is used with
   * the next one, unless {@link #coast} is called before.
   *
   * @param cellCelsius measured cell temperature, degrees Celsius; NaN if there is none
   */
  public void temperature(double cellCelsius) {
    main.temperature(cellCelsius);
  }

  private void correct(boolean first, double busWatts, MarginReading out) {
    Sample sample = main.sample();
    double step = Math.min(main.elapsedSeconds(), LONGEST_STEP_SECONDS);
    double demand = Math.max(busWatts, 0);
    if (first) {
      steadyDemand.start(demand);
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
    boolean near = steadyDemand.watts() >= PowerBounds.NEAR_LOAD * power.available();
    boolean invalid = recovery.follow(step, held, pastKnee(), near, power.available());
    if (invalid) {
      forget();
    }
    fault.follow(step, invalid || recovery.burst());
    if (held) {
      report(out, Status.SENSOR_FAULT, demand, 0);
      return;
    }
    boolean settled = flight.seconds() > WATCHED_FROM_SECONDS && !belowKnee.detected();
    if (!recovery.burst() && timing.follow(step, settled, sample, filter)) {
      main.configure(timing.model());
      if (timing.onTrial()) {
        // estimates made without the throttle, or before it was rejected, may be wrong
        forget();
      }
    }
    follow(step, sample, Math.max(filter.volts() * filter.amps(), 0));
    uneven.fly(step, flight.airborne());
    if (uneven.airSeconds() > WATCHED_FROM_SECONDS && !pastKnee()) {
      uneven.follow(step, sample, timing.model().longestFilterSeconds(), filter);
    }
    report(out, null, demand, step);
  }

  private boolean pastKnee() {
    return belowKnee.detected() || kneeDetector.detected();
  }

  /** Reinitialises as at the beginning of the flight; the status is then warming up. */
  private void forget() {
    restart();
    uneven.reset();
    recovery.forget();
  }

  /**
   * Whether the last reading led to an update at a newer instant.
   *
   * @return false if the estimate did not change
   */
  public boolean advanced() {
    return advanced;
  }

  /**
   * Whether readings are averaged over a short window because their timing is not known: most
   * readings then lead to no update by themselves.
   *
   * @return true while the time model does not use the throttle
   */
  public boolean averaging() {
    return averaging;
  }

  /** Measured power; from the aligned readings if one of the two is not fresh. */
  private static double busWatts(double busVolts, double busAmps, Sample sample) {
    double watts = busVolts * busAmps;
    return Double.isNaN(watts) ? sample.volts * sample.amps : watts;
  }

  /**
   * Propagates the estimate without a usable reading: the interval widens and the status is {@link
   * Status#SENSOR_FAULT}.
   *
   * @param nanos the present time, ns
   * @param out filled with the prediction
   */
  public void coast(long nanos, MarginReading out) {
    if (!main.started()) {
      return;
    }
    main.coast(nanos);
    noteFault();
    if (!main.filter().healthy()) {
      restart();
    }
    report(out, Status.SENSOR_FAULT, steadyDemand.watts(), 0);
  }

  /**
   * Whether the rotors carry the craft, judged by the throttle.
   *
   * @return true from the first sample above 40 % of the hover throttle until half a second below
   *     it
   */
  public boolean airborne() {
    return flight.airborne();
  }

  /**
   * Lower bound that alerts use. It is above that of the reading: it allows less for a shadow on a
   * few cells for which there is little evidence, and not for errors beyond the filter's own
   * sigmas.
   *
   * @return W, at or above the reading's lower bound
   */
  public double alertLowWatts() {
    return power.alertLow();
  }

  /**
   * Whether the model places the operating point past the knee.
   *
   * @return true after 0.1 s in the air at more than 3 % below the knee's voltage
   */
  public boolean kneeByModel() {
    return belowKnee.detected();
  }

  /**
   * Whether the throttle rose while the power fell, which indicates flight past the knee without a
   * model.
   *
   * @return true after 0.15 s of it, in the air
   */
  public boolean kneeByPowerDrop() {
    return flight.airborne() && kneeDetector.detected();
  }

  /**
   * Normalised innovation squared of voltage and current of the last corrected sample. If model and
   * stated errors are right, its mean is 2 (chi-squared with two degrees of freedom); if it is
   * lower, the interval is wider than necessary; if it is persistently far higher, the profile or a
   * sensor is wrong.
   *
   * @return 0 or more; 2 before the first sample
   */
  public double normalisedInnovation() {
    return main.filter().innovations().normalised();
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
   * The origin of the time model in use.
   *
   * @return never null
   */
  public TimingStatus timingStatus() {
    return timing.status();
  }

  /**
   * Saves the state for a restart in flight, with a version and a checksum. Does not allocate.
   *
   * @param to the array to write to, at least {@link #STATE_BYTES} long
   * @throws IllegalArgumentException if {@code to} is too short
   */
  public void save(byte[] to) {
    if (to.length < STATE_BYTES) {
      throw new IllegalArgumentException("save needs " + STATE_BYTES + " bytes: " + to.length);
    }
    saved.write(to);
  }

  /**
   * Restores a state that was saved by the same version with equal settings. The next {@link
   * #update}'s step is the time since the save. A damaged or foreign state is refused, and the
   * estimator is then as after construction.
   *
   * @param from a state written by {@link #save}
   * @param nanos when it was saved, on the clock of the samples to come, ns
   * @return true if the state was restored
   */
  public boolean restore(byte[] from, long nanos) {
    reset();
    if (!saved.restore(from, nanos)) {
      reset();
      return false;
    }
    main.resume(nanos);
    clockNanos = nanos;
    return true;
  }

  /**
   * Notes that what was learned may be wrong or lost, because time stamps were out of order or a
   * saved state was refused: the estimate is lower by up to half a sigma in the next minutes.
   */
  public void noteFault() {
    fault.follow(0, true);
  }

  /** Reinitialises after implausible readings; the status is then warming up. */
  private void restart() {
    main.restart();
    trend.reset();
    flight.resume(main.sample().nanos, flight.airborne(), 0);
    held = false;
  }

  /** Whether a sample agrees with the deferred one, which is then not a spike. */
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
    steadyDemand.follow(step, watts);
    kneeDetector.update(step, sample.throttle, Math.max(sample.volts * sample.amps, 0));
  }

  private void report(MarginReading out, Status forced, double demand, double step) {
    power.solve(steadyDemand.watts());
    double highest = ceiling.of(power, steadyDemand.watts());
    if (forced == null) {
      trend.update(step, power.alertLow(), steadyDemand.watts());
      belowKnee.follow(step, flight.airborne(), main.filter().volts(), peak.volts());
    }
    out.setStatus(forced == null ? judge(power.logSd()) : forced);
    out.setAvailable(power.available(), power.low());
    out.setDemand(demand, steadyDemand.watts());
    out.setPeak(peak.volts(), Math.min(highest, 1));
    out.setSecondsToZero(trend.secondsToZero());
    out.setCells(main.filter().suns(), main.filter().state(CELL));
    out.setUnevenLight(uneven.claimed());
    out.setThermometerLeftOut(main.filter().thermometerLeftOut());
  }

  /** Median of the available power at the last report, W; for tests of the filter alone. */
  double medianWatts() {
    return peak.watts();
  }

  /** Sigma of its logarithm from the filter's covariance alone; for tests. */
  double filterLogSd() {
    return Math.sqrt(peak.logVariance(main.filter().covariance()));
  }

  /** Bus voltage at the operating point of the last corrected state, V; for tests. */
  double busVolts() {
    return main.filter().volts();
  }

  /** A hidden state; for tests. */
  double state(int index) {
    return main.filter().state(index);
  }

  /** Sigma of a hidden state; for tests. */
  double stateSd(int index) {
    return Math.sqrt(main.filter().covariance().get(index, index));
  }

  private Status judge(double logSd) {
    if (!flight.airborne()) {
      return Status.IDLE;
    }
    if (pastKnee()) {
      return Status.PAST_KNEE;
    }
    if (flight.seconds() < WARM_SECONDS || logSd > WARM_LOG_SD) {
      return Status.WARMING_UP;
    }
    boolean sharp = logSd <= SHARP_LOG_SD && timing.model().throttleUsed() && !recovery.burst();
    return sharp ? Status.SHARP : Status.COARSE;
  }
}
