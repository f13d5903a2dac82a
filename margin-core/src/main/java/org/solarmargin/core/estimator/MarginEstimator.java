package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.PROPULSION;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.lag.Decay;
import org.solarmargin.core.rotor.RotorLoad;

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
 * {@code DEVELOPERS.md}, which states rms, coverage and gap by family with the command that
 * measures them. Fixed cost, no allocation after construction, no clock, no thread; one thread at a
 * time.
 */
public final class MarginEstimator {

  /** Length of a saved state, bytes. */
  public static final int STATE_BYTES = StateBytes.LENGTH;

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
  private static final double SHY_SIGMAS = 0.18;

  private static final double SHY_LOAD = 0.55;
  private static final double PLAIN_LOAD = 0.75;

  private static final double SHARP_LOG_SD = 0.05;
  private static final double WARM_LOG_SD = 0.15;
  private static final double WARM_SECONDS = 3;
  private static final double HOLD_FROM_SECONDS = 0.5;

  /** At slower rates a sample is too dear to wait for the next. */
  private static final double HOLD_STEP_SECONDS = 0.25;

  private static final int MOST_HELD = 3;
  private static final double AGREE_SIGMAS = 8;
  private static final double AGREE_SHARE = 0.1;
  private static final double AIRBORNE_SHARE = 0.4;
  private static final double LANDED_SECONDS = 0.5;
  private static final double DEMAND_SECONDS = 0.1;

  /** Past the knee by the model: bus voltage this share under the knee's, for this long. */
  private static final double KNEE_SHARE = 0.03;

  private static final double KNEE_SECONDS = 0.1;
  private static final double LONGEST_STEP_SECONDS = 3600;

  private final EstimatorSettings settings;
  private final SolarArray array;
  private final HiddenStateFilter filter;
  private final Sample sample = new Sample();
  private final PowerPeak peak;
  private final KneeWitness witness = new KneeWitness();
  private final MarginTrend trend = new MarginTrend();
  private final StateBytes bytes;
  private final Decay demandLag = new Decay(DEMAND_SECONDS);
  private final double airborneThrottle;

  private boolean started;
  private boolean held;
  private int heldCount;
  private double heldVolts;
  private double heldAmps;
  private boolean airborne;
  private double lowThrottleSeconds;
  private double airborneSeconds;
  private double steadyDemand;
  private double ceilingEmf;
  private double pastKneeSeconds;
  private boolean modelSeesKnee;

  /**
   * An estimator that has seen nothing.
   *
   * @param settings what is known of the craft, not null
   */
  public MarginEstimator(EstimatorSettings settings) {
    this.settings = settings;
    this.array = settings.newArray();
    this.filter = new HiddenStateFilter(settings, array);
    this.peak = new PowerPeak(array);
    this.bytes = new StateBytes(settings);
    EstimatorSettings.Sensors sensors = settings.sensors();
    sample.voltsVariance = square(sensors.voltageNoiseVolts());
    sample.ampsVariance = square(sensors.currentNoiseAmps());
    this.airborneThrottle = AIRBORNE_SHARE * settings.rotor().hoverThrottle();
    reset();
  }

  /** Back to the state after construction. */
  public void reset() {
    filter.reset();
    array.curve().forgetPeak();
    witness.reset();
    trend.reset();
    started = false;
    held = false;
    heldCount = 0;
    airborne = false;
    lowThrottleSeconds = 0;
    airborneSeconds = 0;
    steadyDemand = 0;
    ceilingEmf = 0;
    pastKneeSeconds = 0;
    modelSeesKnee = false;
  }

  /**
   * Takes one sample.
   *
   * @param seconds since the last call of this method or of {@link #coast}, more than 0; ignored
   *     for the first
   * @param busVolts V, 0 or more, finite
   * @param busAmps A, finite
   * @param throttle mean motor command, 0 to 1
   * @param cellCelsius measured cell temperature, degrees Celsius; NaN if there is none
   * @param out filled with the new reading
   * @return false if the sample stands so far off that one more is awaited: {@code out} is then
   *     coasting
   */
  public boolean update(
      double seconds,
      double busVolts,
      double busAmps,
      double throttle,
      double cellCelsius,
      MarginReading out) {
    double step = Math.min(seconds, LONGEST_STEP_SECONDS);
    double demand = Math.max(busVolts * busAmps, 0);
    if (!started) {
      filter.start(busVolts, throttle);
      steadyDemand = demand;
      step = 0;
    } else {
      filter.predict(step, throttle);
    }
    boolean mayHold =
        started
            && step < HOLD_STEP_SECONDS
            && airborneSeconds > HOLD_FROM_SECONDS
            && heldCount < MOST_HELD
            && !(held && agrees(busVolts, busAmps));
    sample.volts = busVolts;
    sample.amps = busAmps;
    sample.throttle = throttle;
    sample.cellCelsius = cellCelsius;
    held = !filter.correct(sample, mayHold);
    heldCount = held ? heldCount + 1 : 0;
    heldVolts = busVolts;
    heldAmps = busAmps;
    started = true;
    if (!filter.healthy()) {
      restart(busVolts, throttle);
    }
    if (held) {
      report(out, Status.SENSOR_FAULT, demand, 0);
      return false;
    }
    follow(step, throttle, Math.max(filter.volts() * filter.amps(), 0), demand);
    report(out, null, demand, step);
    return true;
  }

  /**
   * Lets time pass without a usable sample: the interval grows and the status says so.
   *
   * @param seconds since the last call of this method or of {@link #update}, 0 or more
   * @param throttle the last command known, 0 to 1
   * @param out filled with the coasting reading
   */
  public void coast(double seconds, double throttle, MarginReading out) {
    if (!started) {
      return;
    }
    double step = Math.min(Math.max(seconds, 0), LONGEST_STEP_SECONDS);
    if (step > 0) {
      filter.coast(step, throttle);
      if (!filter.healthy()) {
        restart(filter.volts(), throttle);
      }
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
    return airborne;
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
    return airborne && witness.sees();
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
    return filter.normalisedInnovation();
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
    bytes.startWriting(to);
    bytes.put(started ? 1 : 0);
    bytes.put(airborne ? 1 : 0);
    bytes.put(airborneSeconds);
    bytes.put(steadyDemand);
    filter.write(bytes);
    bytes.finishWriting();
  }

  /**
   * Takes up a saved state, made by the same version with equal settings. The next {@link
   * #update}'s step is the time since the save. A damaged or foreign state is refused, and the
   * estimator starts afresh.
   *
   * @param from what {@link #save} wrote
   * @return true if taken up
   */
  public boolean restore(byte[] from) {
    reset();
    if (!bytes.startReading(from)) {
      return false;
    }
    started = bytes.get() != 0;
    airborne = bytes.get() != 0;
    airborneSeconds = Math.max(bytes.get(), 0);
    steadyDemand = Math.max(bytes.get(), 0);
    filter.read(bytes);
    if (!filter.healthy()) {
      reset();
      return false;
    }
    return started;
  }

  /** Readings that no craft gives have broken the numbers: begin anew, warming up. */
  private void restart(double busVolts, double throttle) {
    filter.reset();
    array.curve().forgetPeak();
    filter.start(busVolts, throttle);
    trend.reset();
    airborneSeconds = 0;
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

  private void follow(double step, double throttle, double watts, double demand) {
    lowThrottleSeconds = throttle >= airborneThrottle ? 0 : lowThrottleSeconds + step;
    if (throttle >= airborneThrottle) {
      airborneSeconds = airborne ? airborneSeconds + step : 0;
      airborne = true;
    } else if (lowThrottleSeconds > LANDED_SECONDS) {
      airborne = false;
      airborneSeconds = 0;
    }
    filter.setAirborne(airborne, airborneSeconds);
    steadyDemand += demandLag.share(step) * (watts - steadyDemand);
    witness.update(step, throttle, demand);
  }

  private void report(MarginReading out, Status forced, double demand, double step) {
    peak.solve();
    double median = peak.watts();
    double load = steadyDemand / Math.max(median, 1e-9);
    double near = ramp(load, FAR_LOAD, NEAR_LOAD);
    double modelVariance = square(MODEL_LOG_SD) + square(near * KNEE_LOG_SD);
    double logSd =
        Math.sqrt(filter.covariance().variance(peak.gradient(), PowerPeak.STATES) + modelVariance);
    double shy = SHY_SIGMAS * (1 - ramp(load, SHY_LOAD, PLAIN_LOAD)) * logSd;
    double available = shy > 0 ? median * Math.exp(-shy) : median;
    // a spread that is no number means that nothing is sure
    double low = logSd >= 0 ? median * Math.exp(-ONE_SIDED_95 * logSd) : 0;
    double ohms = filter.ohms();
    double propulsion = Math.exp(filter.state(PROPULSION));
    double motorWatts = available - settings.rotor().housekeepingWatts();
    ceilingEmf = RotorLoad.backEmfFor(motorWatts, ohms, propulsion, ceilingEmf);
    double ceiling = RotorLoad.windingVolts(ceilingEmf, ohms, propulsion) / peak.volts();
    if (forced == null) {
      trend.update(step, low, steadyDemand);
      boolean under = airborne && filter.volts() < (1 - KNEE_SHARE) * peak.volts();
      pastKneeSeconds = under ? pastKneeSeconds + step : 0;
      modelSeesKnee = under && pastKneeSeconds >= KNEE_SECONDS;
    }
    out.set(
        forced == null ? judge(logSd) : forced,
        available,
        low,
        demand,
        steadyDemand,
        peak.volts(),
        Math.min(ceiling, 1),
        trend.secondsToZero(),
        filter.suns(),
        filter.state(CELL));
  }

  /** Median of the available power at the last report, W: for tests of the filter alone. */
  double medianWatts() {
    return peak.watts();
  }

  /** Sigma of its logarithm by the filter's covariance alone, for tests. */
  double filterLogSd() {
    return Math.sqrt(filter.covariance().variance(peak.gradient(), PowerPeak.STATES));
  }

  /** A hidden state, for tests. */
  double state(int index) {
    return filter.state(index);
  }

  /** Its sigma, for tests. */
  double stateSd(int index) {
    return Math.sqrt(filter.covariance().get(index, index));
  }

  /** 0 up to {@code from}, 1 from {@code to} on, straight between. */
  private static double ramp(double value, double from, double to) {
    return Math.min(Math.max((value - from) / (to - from), 0), 1);
  }

  private Status judge(double logSd) {
    if (!airborne) {
      return Status.IDLE;
    }
    if (modelSeesKnee || witness.sees()) {
      return Status.PAST_KNEE;
    }
    if (airborneSeconds < WARM_SECONDS || logSd > WARM_LOG_SD) {
      return Status.WARMING_UP;
    }
    return logSd <= SHARP_LOG_SD ? Status.SHARP : Status.COARSE;
  }

  private static double square(double v) {
    return v * v;
  }
}
