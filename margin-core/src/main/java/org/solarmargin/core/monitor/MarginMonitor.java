package org.solarmargin.core.monitor;

import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertListener;
import org.solarmargin.core.alert.AlertMonitor;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.MarginEstimator;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.gate.GateLimits;
import org.solarmargin.core.gate.SampleGate;
import org.solarmargin.core.gate.Verdict;

/**
 * Sample in, reading and alerts out.
 *
 * <p>Never throws on a sample, reads no clock, allocates nothing after construction. One thread at
 * a time.
 */
public final class MarginMonitor {

  private static final double NANOS = 1e-9;
  private static final double SIGMAS = 6;

  private final SampleGate gate;
  private final MarginEstimator estimator;
  private final AlertMonitor alerts;
  private final MarginReading reading = new MarginReading();

  private boolean started;
  private long estimatedNanos;
  private long alertedNanos;
  private double lastThrottle;
  private long kneeByModelOnly;
  private long kneeByWitnessOnly;
  private long kneeByBoth;

  /**
   * A monitor that has seen nothing.
   *
   * @param settings what is known of the craft, not null
   * @param rules alert thresholds, not null
   * @param listener told of each alert, not null
   */
  public MarginMonitor(EstimatorSettings settings, AlertRules rules, AlertListener listener) {
    gate = new SampleGate(limitsOf(settings));
    estimator = new MarginEstimator(settings);
    alerts = new AlertMonitor(rules, listener);
  }

  /** Back to the state after construction. */
  public void reset() {
    gate.reset();
    estimator.reset();
    alerts.reset();
    started = false;
    estimatedNanos = 0;
    alertedNanos = 0;
    lastThrottle = 0;
    kneeByModelOnly = 0;
    kneeByWitnessOnly = 0;
    kneeByBoth = 0;
    reading.clear();
  }

  /**
   * Takes one sample without a measured cell temperature.
   *
   * @param timeNanos time since any fixed origin, ns
   * @param busVolts V
   * @param busAmps A, positive out of the array
   * @param throttle mean motor command, 0 to 1
   * @return what became of the sample, never null
   */
  public Verdict update(long timeNanos, double busVolts, double busAmps, double throttle) {
    return update(timeNanos, busVolts, busAmps, throttle, Double.NaN);
  }

  /**
   * Takes one sample. Any value is survived: a refused one is counted, named and changes no
   * estimate but that the interval grows.
   *
   * @param timeNanos time since any fixed origin, ns
   * @param busVolts V
   * @param busAmps A, positive out of the array
   * @param throttle mean motor command, 0 to 1
   * @param cellCelsius measured cell temperature, degrees Celsius; NaN or absurd counts as none
   * @return what became of the sample, never null
   */
  public Verdict update(
      long timeNanos, double busVolts, double busAmps, double throttle, double cellCelsius) {
    Verdict verdict = gate.judge(timeNanos, busVolts, busAmps, throttle);
    if (gate.wrongArray()) {
      reading.clear();
      return verdict;
    }
    boolean timeless = verdict == Verdict.TIME_REPEATED || verdict == Verdict.TIME_BACKWARD;
    if (timeless) {
      return verdict;
    }
    if (verdict == Verdict.ACCEPTED) {
      double seconds = started ? secondsSince(estimatedNanos, timeNanos) : 0;
      double celsius = cellCelsius > -60 && cellCelsius < 150 ? cellCelsius : Double.NaN;
      if (!estimator.update(seconds, Math.max(busVolts, 0), busAmps, throttle, celsius, reading)) {
        verdict = gate.refuseAsSpike();
      }
      alertedNanos = started ? alertedNanos : timeNanos;
      started = true;
      estimatedNanos = timeNanos;
      lastThrottle = throttle;
    } else if (started) {
      estimator.coast(secondsSince(estimatedNanos, timeNanos), lastThrottle, reading);
      estimatedNanos = timeNanos;
    }
    alertOn(timeNanos, verdict);
    return verdict;
  }

  /**
   * Saves the estimator's state, so that a restarted program need not warm up. Allocates nothing;
   * once a second is often enough.
   *
   * @param to at least {@link MarginEstimator#STATE_BYTES} long
   * @throws IllegalArgumentException if {@code to} is too short
   */
  public void save(byte[] to) {
    estimator.save(to);
  }

  /**
   * How well the last samples fit the model, see {@link MarginEstimator#normalisedInnovation()}.
   *
   * @return 0 or more; 2 on average if profile and sensors are as stated
   */
  public double normalisedInnovation() {
    return estimator.normalisedInnovation();
  }

  /**
   * Takes up a saved state in a new or reset monitor. Standing alerts are not part of it: they rise
   * anew.
   *
   * @param from what {@link #save} wrote, by the same version with equal settings
   * @param nowNanos time now, on the clock of the samples to come, ns
   * @param secondsAgo when it was saved, s before now, 0 or more
   * @return false if the state is damaged or foreign: the monitor then starts afresh
   */
  public boolean restore(byte[] from, long nowNanos, double secondsAgo) {
    reset();
    started = estimator.restore(from);
    if (started) {
      estimatedNanos = nowNanos - Math.round(Math.max(secondsAgo, 0) / NANOS);
      alertedNanos = nowNanos;
    }
    return started;
  }

  private void alertOn(long timeNanos, Verdict verdict) {
    if (!started) {
      return;
    }
    double seconds = secondsSince(alertedNanos, timeNanos);
    alertedNanos = timeNanos;
    boolean accepted = verdict == Verdict.ACCEPTED;
    Status status = reading.status();
    boolean pastKnee = accepted && status == Status.PAST_KNEE;
    if (pastKnee) {
      countWitnesses();
    }
    alerts.update(
        timeNanos,
        seconds,
        estimator.airborne(),
        status == Status.SHARP || status == Status.COARSE || pastKnee,
        !accepted,
        pastKnee,
        reading.availableWatts(),
        reading.availableLowWatts(),
        reading.steadyDemandWatts(),
        reading.secondsToZero());
  }

  private void countWitnesses() {
    boolean model = estimator.modelSeesKnee();
    boolean witness = estimator.witnessSeesKnee();
    if (model && witness) {
      kneeByBoth++;
    } else if (model) {
      kneeByModelOnly++;
    } else {
      kneeByWitnessOnly++;
    }
  }

  /**
   * The latest reading: live, refilled by the next update.
   *
   * @return never null
   */
  public MarginReading reading() {
    return reading;
  }

  /**
   * The highest standing alert.
   *
   * @return NONE if nothing stands
   */
  public AlertLevel level() {
    return alerts.level();
  }

  /** As {@link AlertMonitor#acknowledge()}: what stands stays silent until it clears or rises. */
  public void acknowledge() {
    alerts.acknowledge();
  }

  /**
   * The level to sound.
   *
   * @return as {@link AlertMonitor#sounding()}
   */
  public AlertLevel sounding() {
    return alerts.sounding();
  }

  /**
   * Lower bound of the margin that the alert rules judged last.
   *
   * @return percent of the remembered peak of demand
   */
  public double alertMarginPercent() {
    return alerts.marginPercent();
  }

  /**
   * Whether the rotors carry the craft.
   *
   * @return as {@link MarginEstimator#airborne()}
   */
  public boolean airborne() {
    return estimator.airborne();
  }

  /**
   * Whether the samples cannot come from this array; nothing is estimated from then on.
   *
   * @return as {@link SampleGate#wrongArray()}
   */
  public boolean wrongArray() {
    return gate.wrongArray();
  }

  /**
   * The gate, for its counts and limits.
   *
   * @return never null
   */
  public SampleGate gate() {
    return gate;
  }

  /**
   * Samples past the knee that only the model saw.
   *
   * @return count
   */
  public long kneeByModelOnly() {
    return kneeByModelOnly;
  }

  /**
   * Samples past the knee that only the witness without a model saw (throttle up, power down).
   *
   * @return count
   */
  public long kneeByWitnessOnly() {
    return kneeByWitnessOnly;
  }

  /**
   * Samples past the knee that both saw.
   *
   * @return count
   */
  public long kneeByBoth() {
    return kneeByBoth;
  }

  /** A difference too long for a long counts as the longest. */
  private static double secondsSince(long earlier, long later) {
    long nanos = later - earlier;
    return (nanos < 0 ? Long.MAX_VALUE : nanos) * NANOS;
  }

  private static GateLimits limitsOf(EstimatorSettings settings) {
    SolarArray array = settings.newArray();
    EstimatorSettings.Sensors sensors = settings.sensors();
    array.set(GateLimits.BRIGHTEST_SUNS, GateLimits.COLDEST_CELSIUS);
    double volts =
        array.openCircuitVolts() * (1 + SIGMAS * sensors.voltageGainSd())
            + SIGMAS * sensors.voltageNoiseVolts();
    array.set(GateLimits.BRIGHTEST_SUNS, GateLimits.WARMEST_CELSIUS);
    double slackAmps = SIGMAS * (sensors.currentNoiseAmps() + sensors.currentOffsetSdAmps());
    double amps = array.shortCircuitAmps() * (1 + SIGMAS * sensors.currentGainSd()) + slackAmps;
    return new GateLimits(volts, amps, SIGMAS * sensors.voltageNoiseVolts(), slackAmps);
  }
}
