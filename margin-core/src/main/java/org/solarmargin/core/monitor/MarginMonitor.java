package org.solarmargin.core.monitor;

import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertListener;
import org.solarmargin.core.alert.AlertMonitor;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.FlightPhase;
import org.solarmargin.core.alert.PowerFigures;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.MarginEstimator;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.MarginSnapshot;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TimingStatus;
import org.solarmargin.core.gate.GateCounts;
import org.solarmargin.core.gate.GateLimits;
import org.solarmargin.core.gate.SampleClock;
import org.solarmargin.core.gate.SampleGate;
import org.solarmargin.core.gate.Verdict;
import org.solarmargin.core.profile.TimingWords;
import org.solarmargin.core.timing.TimeModel;

/**
 * Sample in, reading and alerts out.
 *
 * <p>Never throws on a sample, reads no clock, allocates nothing after construction but snapshots.
 * One thread feeds and reads it; {@link #snapshot} and {@link #acknowledge} are for any thread.
 */
public final class MarginMonitor {

  private static final double NANOS = 1e-9;
  private static final double SIGMAS = 6;

  /** Length of a saved state, bytes. */
  public static final int STATE_BYTES = MarginEstimator.STATE_BYTES + AlertMonitor.STATE_BYTES;

  /** How late a reading may come behind the commands, ns. */
  public static final long WINDOW_NANOS = 500_000_000L;

  private static final double STALE_SECONDS = 1;
  private static final double STALE_PERIODS = 3;
  private static final double FRESH_SHARE = 0.1;
  private static final double LONGEST_FRESH_SECONDS = 2;

  private final SampleClock clock = new SampleClock();
  private final SampleGate gate;
  private final MarginEstimator estimator;
  private final AlertMonitor alerts;
  private final MarginReading reading = new MarginReading();
  private final PowerFigures alertFigures = new AlertFigures();
  private final PublishedReading published = new PublishedReading();
  private volatile boolean acknowledgeAsked;

  private boolean started;
  private long alertedNanos;
  private long freshNanos;
  private double usualFreshSeconds;
  private boolean commanded;
  private long lastCommandNanos;
  private boolean waiting;
  private long waitingNanos;
  private double waitingVolts;
  private double waitingAmps;
  private double waitingCelsius;
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
    gate = gateFor(settings);
    estimator = new MarginEstimator(settings);
    alerts =
        new AlertMonitor(
            rules,
            (nanos, level, raised, reason, margin, toZero) ->
                listener.alert(nanos - clock.shiftNanos(), level, raised, reason, margin, toZero));
  }

  /** Back to the state after construction. */
  public void reset() {
    clock.reset();
    gate.reset();
    estimator.reset();
    alerts.reset();
    started = false;
    alertedNanos = 0;
    freshNanos = 0;
    usualFreshSeconds = 0;
    waiting = false;
    commanded = false;
    lastCommandNanos = 0;
    kneeByModelOnly = 0;
    kneeByWitnessOnly = 0;
    kneeByBoth = 0;
    acknowledgeAsked = false;
    reading.clear();
    published.set(reading);
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
   * Takes one sample whose readings and throttle come together. Never throws; a refused sample is
   * counted and named, and only widens the interval.
   *
   * @param timeNanos time since any fixed origin, ns
   * @param busVolts V; NaN is no new reading
   * @param busAmps A, positive out of the array; NaN is no new reading
   * @param throttle mean motor command, 0 to 1; NaN is no new command
   * @param cellCelsius measured cell temperature, degrees Celsius; NaN or absurd counts as none
   * @return what became of the sample, never null
   */
  public Verdict update(
      long timeNanos, double busVolts, double busAmps, double throttle, double cellCelsius) {
    takeWaiting();
    Verdict time = clock.judge(timeNanos);
    if (time.refused()) {
      return refuse(time);
    }
    long now = clock.nanos();
    Verdict verdict = gate.judge(now, busVolts, busAmps, throttle);
    if (!verdict.refused()) {
      estimator.command(now, gate.throttle());
    }
    return estimate(now, busVolts, busAmps, cellCelsius, verdict);
  }

  /** A sample refused for its time: once there are many in a row, the reading grows old by them. */
  private Verdict refuse(Verdict time) {
    gate.refuse(time);
    if (clock.standsStill()) {
      long now = clock.nanos();
      if (started && stale(now)) {
        estimator.coast(now, reading);
      }
      alertOn(now, false);
      published.set(reading);
    }
    return time;
  }

  /**
   * Takes a command to the motors that comes without a reading. Commands come in the order of time;
   * between commands and readings the order is free within {@value #WINDOW_NANOS} ns: a reading
   * waits for the first command that is not older than itself.
   *
   * @param timeNanos when it was given, ns since any fixed origin
   * @param throttle mean motor command, 0 to 1
   * @return what became of it, never null
   */
  public Verdict command(long timeNanos, double throttle) {
    if (waiting && timeNanos > waitingNanos) {
      takeWaiting();
    }
    long now = timeNanos + clock.shiftNanos();
    Verdict verdict = gate.judgeCommand(now, throttle);
    if (verdict == Verdict.ACCEPTED) {
      lastCommandNanos = timeNanos;
      commanded = true;
      estimator.command(now, throttle);
    }
    if (waiting && timeNanos >= waitingNanos) {
      takeWaiting();
    }
    return verdict;
  }

  /**
   * Takes a reading of the bus that comes without a command.
   *
   * @param timeNanos when it was read, ns, on the clock of the commands
   * @param busVolts V; NaN if it has none
   * @param busAmps A, positive out of the array; NaN if it has none
   * @param cellCelsius measured cell temperature, degrees Celsius; NaN or absurd counts as none
   * @return what became of it, never null; {@link Verdict#ACCEPTED} also while it waits for the
   *     command of its instant
   */
  public Verdict reading(long timeNanos, double busVolts, double busAmps, double cellCelsius) {
    takeWaiting();
    waiting = true;
    waitingNanos = timeNanos;
    waitingVolts = busVolts;
    waitingAmps = busAmps;
    waitingCelsius = cellCelsius;
    return commanded && lastCommandNanos >= timeNanos ? takeWaiting() : Verdict.ACCEPTED;
  }

  private Verdict takeWaiting() {
    if (!waiting) {
      return Verdict.ACCEPTED;
    }
    waiting = false;
    Verdict time = clock.judge(waitingNanos);
    if (time.refused()) {
      return refuse(time);
    }
    long now = clock.nanos();
    Verdict verdict = gate.judgeReading(now, waitingVolts, waitingAmps);
    return estimate(now, waitingVolts, waitingAmps, waitingCelsius, verdict);
  }

  private Verdict estimate(
      long timeNanos, double busVolts, double busAmps, double cellCelsius, Verdict judged) {
    Verdict verdict = judge(timeNanos, busVolts, busAmps, cellCelsius, judged);
    published.set(reading);
    return verdict;
  }

  private Verdict judge(
      long timeNanos, double busVolts, double busAmps, double cellCelsius, Verdict judged) {
    if (gate.wrongArray()) {
      reading.clear();
      return judged;
    }
    Verdict verdict = judged;
    if (verdict == Verdict.ACCEPTED) {
      double celsius = cellCelsius > -60 && cellCelsius < 150 ? cellCelsius : Double.NaN;
      double volts = gate.voltsFresh() ? Math.max(busVolts, 0) : Double.NaN;
      double amps = gate.ampsFresh() ? busAmps : Double.NaN;
      if (!estimator.reading(timeNanos, volts, amps, celsius, reading)) {
        verdict = gate.recount(Verdict.SPIKE);
      } else if (!estimator.advanced() && !estimator.averaging()) {
        verdict = gate.recount(Verdict.NO_NEW_READING);
      }
      if (estimator.advanced() || estimator.averaging()) {
        followFresh(timeNanos);
      }
    }
    boolean idle = verdict.refused() && verdict != Verdict.SPIKE;
    if (started && (idle || (verdict == Verdict.NO_NEW_READING && stale(timeNanos)))) {
      estimator.coast(timeNanos, reading);
    }
    alertOn(timeNanos, !verdict.refused() && !stale(timeNanos));
    return verdict;
  }

  private void followFresh(long timeNanos) {
    if (started) {
      double seconds = Math.min(secondsSince(freshNanos, timeNanos), LONGEST_FRESH_SECONDS);
      usualFreshSeconds += FRESH_SHARE * (seconds - usualFreshSeconds);
    } else {
      alertedNanos = timeNanos;
      started = true;
    }
    freshNanos = timeNanos;
  }

  /** Whether the last fresh reading is so old that the estimate can only coast. */
  private boolean stale(long timeNanos) {
    double limit = Math.max(STALE_SECONDS, STALE_PERIODS * usualFreshSeconds);
    return started && secondsSince(freshNanos, timeNanos) > limit;
  }

  /**
   * What is added to the stamps of samples so that time goes on where it was.
   *
   * @return s; 0 until a clock has started anew
   */
  public double clockShiftSeconds() {
    return clock.shiftNanos() * NANOS;
  }

  /**
   * Saves the estimator's state and the standing alerts, so that a restarted program need not warm
   * up and stays at the level that it had. Allocates nothing; once a second is often enough.
   *
   * @param to at least {@link #STATE_BYTES} long
   * @throws IllegalArgumentException if {@code to} is too short
   */
  public void save(byte[] to) {
    if (to.length < STATE_BYTES) {
      throw new IllegalArgumentException("save needs " + STATE_BYTES + " bytes: " + to.length);
    }
    estimator.save(to);
    alerts.save(to, MarginEstimator.STATE_BYTES);
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
   * Takes up a saved state, in a new monitor or a used one. What stood when it was saved stands
   * again, acknowledged or not, until its condition has ended or the craft is on the ground; the
   * listener is told of the highest level once more.
   *
   * @param from what {@link #save} wrote, by the same version with equal settings
   * @param nowNanos time now, on the clock of the samples to come, ns
   * @param secondsAgo when it was saved, s before now, 0 or more
   * @return false if the state is damaged, foreign or of another version: the monitor then starts
   *     afresh
   */
  public boolean restore(byte[] from, long nowNanos, double secondsAgo) {
    reset();
    if (from == null || from.length < STATE_BYTES) {
      return false;
    }
    long savedNanos = nowNanos - Math.round(Math.max(secondsAgo, 0) / NANOS);
    started =
        estimator.restore(from, savedNanos)
            && alerts.restore(from, MarginEstimator.STATE_BYTES, savedNanos, nowNanos);
    if (!started) {
      estimator.reset();
    }
    alertedNanos = nowNanos;
    freshNanos = nowNanos;
    return started;
  }

  private void alertOn(long timeNanos, boolean accepted) {
    takeAcknowledgement();
    if (!started || reading.status() == Status.NO_ESTIMATE) {
      return;
    }
    double seconds = secondsSince(alertedNanos, timeNanos);
    alertedNanos = timeNanos;
    Status status = reading.status();
    if (accepted && status == Status.PAST_KNEE) {
      countWitnesses();
    }
    alerts.update(timeNanos, seconds, phase(accepted, status), alertFigures);
  }

  /** What the alerts judge: the reading, but with a lower bound of its own. */
  private final class AlertFigures implements PowerFigures {
    @Override
    public double availableWatts() {
      return reading.availableWatts();
    }

    @Override
    public double availableLowWatts() {
      return estimator.alertLowWatts();
    }

    @Override
    public double steadyDemandWatts() {
      return reading.steadyDemandWatts();
    }

    @Override
    public double secondsToZero() {
      return reading.secondsToZero();
    }
  }

  private FlightPhase phase(boolean accepted, Status status) {
    if (!estimator.airborne()) {
      return FlightPhase.GROUNDED;
    }
    if (!accepted) {
      return FlightPhase.BLIND;
    }
    if (status == Status.PAST_KNEE) {
      return FlightPhase.PAST_KNEE;
    }
    return status.bearsMargin() ? FlightPhase.TRUSTED : FlightPhase.UNTRUSTED;
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
   * The time model in use.
   *
   * @return never null
   */
  public TimeModel timing() {
    return estimator.timing();
  }

  /**
   * Where the time model in use comes from.
   *
   * @return never null
   */
  public TimingStatus timingStatus() {
    return estimator.timingStatus();
  }

  /**
   * The time model in use and where it comes from, as one sentence for a status line, with the
   * lines for the profile where it was found from the readings. Makes a new text: not for every
   * sample.
   *
   * @return never empty, without a full stop
   */
  public String timingWords() {
    return TimingWords.of(timingStatus(), timing());
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

  /**
   * As {@link AlertMonitor#acknowledge()}: what stands stays silent until it clears or rises. From
   * any thread; it counts from the next call of the feeding thread on.
   */
  public void acknowledge() {
    acknowledgeAsked = true;
  }

  private void takeAcknowledgement() {
    if (acknowledgeAsked) {
      acknowledgeAsked = false;
      alerts.acknowledge();
    }
  }

  /**
   * The last reading, from any thread: all of its figures are of one instant. Never blocks the
   * feeding thread.
   *
   * @return a new record
   */
  public MarginSnapshot snapshot() {
    return published.get();
  }

  /**
   * The level to sound.
   *
   * @return as {@link AlertMonitor#sounding()}
   */
  public AlertLevel sounding() {
    takeAcknowledgement();
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
   * Whether the samples cannot come from this array; nothing is estimated meanwhile.
   *
   * @return as {@link SampleGate#wrongArray()}
   */
  public boolean wrongArray() {
    return gate.wrongArray();
  }

  /**
   * What was judged of the samples so far, as it goes on.
   *
   * @return never null
   */
  public GateCounts gate() {
    return gate;
  }

  /**
   * Counts a sample whose time cannot be expressed at all.
   *
   * @return {@link Verdict#NOT_A_NUMBER}
   */
  public Verdict refuseUntimed() {
    return gate.refuseUntimed();
  }

  /**
   * A gate of its own with the limits of a craft: for whoever sorts samples without estimating.
   *
   * @param settings of the craft
   * @return a gate that has judged nothing
   */
  public static SampleGate gateFor(EstimatorSettings settings) {
    return new SampleGate(limitsOf(settings), settings.timing());
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
