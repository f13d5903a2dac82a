package org.solarmargin.core.monitor;

import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertListener;
import org.solarmargin.core.alert.AlertMonitor;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.FlightPhase;
import org.solarmargin.core.alert.PowerFigures;
import org.solarmargin.core.align.Aligner;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.MarginEstimator;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.MarginSnapshot;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TimingStatus;
import org.solarmargin.core.gate.SampleClock;
import org.solarmargin.core.gate.SampleGate;
import org.solarmargin.core.profile.TimingWords;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.core.verdict.GateCounts;
import org.solarmargin.core.verdict.GateLimits;
import org.solarmargin.core.verdict.Verdict;

/**
 * The complete path from samples to readings and alerts.
 *
 * <p>It never throws on a sample, reads no clock and allocates nothing after construction except
 * snapshots. One thread feeds and reads it; {@link #snapshot} and {@link #acknowledge} may be
 * called from any thread.
 */
public final class MarginMonitor {

  private static final double NANOS = 1e-9;

  /** Width of the plausibility limits beyond the physical ones, in sigmas of the sensors. */
  private static final double SIGMAS = 6;

  /** Length of a saved state, bytes. */
  public static final int STATE_BYTES = MarginEstimator.STATE_BYTES + AlertMonitor.STATE_BYTES;

  /** How much later than the commands a reading may arrive, ns. */
  public static final long WINDOW_NANOS = Aligner.WINDOW_NANOS;

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
  private boolean alerting;
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
  private long kneeByPowerDropOnly;
  private long kneeByBoth;

  /**
   * Creates a monitor that has received no sample.
   *
   * @param settings prior knowledge of the craft, not null
   * @param rules alert thresholds, not null
   * @param listener is called for each raise and clear, not null
   */
  public MarginMonitor(EstimatorSettings settings, AlertRules rules, AlertListener listener) {
    gate = new SampleGate(limitsOf(settings), settings.timing());
    estimator = new MarginEstimator(settings);
    alerts =
        new AlertMonitor(
            rules,
            (nanos, level, raised, reason, margin, toZero) ->
                listener.alert(nanos - clock.shiftNanos(), level, raised, reason, margin, toZero));
  }

  /** Returns to the state after construction. */
  public void reset() {
    clock.reset();
    gate.reset();
    estimator.reset();
    alerts.reset();
    started = false;
    alerting = false;
    alertedNanos = 0;
    freshNanos = 0;
    usualFreshSeconds = 0;
    waiting = false;
    commanded = false;
    lastCommandNanos = 0;
    kneeByModelOnly = 0;
    kneeByPowerDropOnly = 0;
    kneeByBoth = 0;
    acknowledgeAsked = false;
    reading.clear();
    published.set(reading);
  }

  /**
   * Processes one sample without a measured cell temperature.
   *
   * @param timeNanos time since any fixed origin, ns
   * @param busVolts V
   * @param busAmps A, positive out of the array
   * @param throttle mean motor command, 0 to 1
   * @return the verdict on the sample, never null
   */
  public Verdict update(long timeNanos, double busVolts, double busAmps, double throttle) {
    return update(timeNanos, busVolts, busAmps, throttle, Double.NaN);
  }

  /**
   * Processes one sample that has both readings and throttle. Never throws; a refused sample is
   * counted under its verdict and only widens the interval.
   *
   * @param timeNanos time since any fixed origin, ns
   * @param busVolts V; NaN means no new reading
   * @param busAmps A, positive out of the array; NaN means no new reading
   * @param throttle mean motor command, 0 to 1; NaN means no new command
   * @param cellCelsius measured cell temperature, degrees Celsius; NaN and values outside -60 to
   *     150 count as not measured
   * @return the verdict on the sample, never null
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
    if (gate.commandedAt(now)) {
      estimator.command(now, gate.throttle());
    }
    return estimate(now, busVolts, busAmps, cellCelsius, verdict);
  }

  /** A sample refused because of its time; many in a row make the last reading stale. */
  private Verdict refuse(Verdict time) {
    gate.refuse(time);
    if (time != Verdict.TIME_REPEATED) {
      estimator.noteFault();
    }
    if (clock.standsStill()) {
      long now = clock.nanos();
      if (started && !gate.wrongArray() && stale(now)) {
        estimator.coast(now, reading);
      }
      alertOn(now, false);
      published.set(reading);
    }
    return time;
  }

  /**
   * Processes a command to the motors that arrives without a reading. Commands must arrive in order
   * of time; relative to each other, commands and readings may arrive in any order within {@value
   * #WINDOW_NANOS} ns: a reading waits for the first command that is not older than itself.
   *
   * @param timeNanos when it was given, ns since any fixed origin
   * @param throttle mean motor command, 0 to 1
   * @return the verdict on the command, never null
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
   * Processes a reading of the bus that arrives without a command.
   *
   * @param timeNanos when it was read, ns, on the clock of the commands
   * @param busVolts V; NaN if absent
   * @param busAmps A, positive out of the array; NaN if absent
   * @param cellCelsius measured cell temperature, degrees Celsius; NaN and values outside -60 to
   *     150 count as not measured
   * @return the verdict on the reading, never null; {@link Verdict#ACCEPTED} also while it waits
   *     for the command of its instant
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
    Verdict time = clock.judgeReading(waitingNanos);
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
      alertOn(timeNanos, false);
      return judged;
    }
    Verdict verdict = judged;
    double celsius = cellCelsius > -60 && cellCelsius < 150 ? cellCelsius : Double.NaN;
    if (verdict == Verdict.ACCEPTED) {
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
    if (judged != Verdict.ACCEPTED) {
      estimator.temperature(celsius);
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

  /** Whether the last fresh reading is so old that the estimate is only propagated. */
  private boolean stale(long timeNanos) {
    double limit = Math.max(STALE_SECONDS, STALE_PERIODS * usualFreshSeconds);
    return started && secondsSince(freshNanos, timeNanos) > limit;
  }

  /**
   * The offset that is added to the time stamps of samples after their clock has restarted.
   *
   * @return s; 0 until the clock has restarted
   */
  public double clockShiftSeconds() {
    return clock.shiftNanos() * NANOS;
  }

  /**
   * Saves the estimator's state and the active alerts, so that a restarted program need not warm up
   * and keeps its alert level. Does not allocate; once a second is often enough. The time model is
   * not saved: one that was found in flight is searched for again, and a stated one that was
   * rejected is used until it is rejected anew.
   *
   * @param to the array to write to, at least {@link #STATE_BYTES} long
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
   * Restores a saved state, in a new monitor or a used one. Alerts that were active when it was
   * saved are active again, acknowledged or not, until their condition has ended or the craft is on
   * the ground; the listener is called again for the highest level.
   *
   * @param from a state written by {@link #save}, by the same version with equal settings
   * @param nowNanos present time, on the clock of the samples to come, ns
   * @param secondsAgo time since it was saved, s, 0 or more
   * @return false if the state is damaged, foreign or of another version: the monitor is then as
   *     after construction, but its estimate is lower by up to half a sigma in the next minutes,
   *     because what had been learned is lost
   */
  public boolean restore(byte[] from, long nowNanos, double secondsAgo) {
    reset();
    long savedNanos = nowNanos - Math.round(Math.max(secondsAgo, 0) / NANOS);
    started =
        from != null
            && from.length >= STATE_BYTES
            && estimator.restore(from, savedNanos)
            && alerts.restore(from, MarginEstimator.STATE_BYTES, savedNanos, nowNanos);
    if (!started) {
      estimator.reset();
      // a restart in flight: what had been learned is lost
      estimator.noteFault();
    }
    alertedNanos = nowNanos;
    freshNanos = nowNanos;
    return started;
  }

  private void alertOn(long timeNanos, boolean accepted) {
    takeAcknowledgement();
    if (!started && !(alerting && estimator.airborne())) {
      // in the air a loss of data is reported even if no reading was ever usable
      alertedNanos = timeNanos;
      alerting = true;
      return;
    }
    double seconds = secondsSince(alertedNanos, timeNanos);
    alertedNanos = timeNanos;
    Status status = reading.status();
    if (accepted && status == Status.NO_ESTIMATE) {
      return;
    }
    if (accepted && status == Status.PAST_KNEE) {
      countKneeDetections();
    }
    alerts.update(timeNanos, seconds, phase(accepted, status), alertFigures);
  }

  /** The figures that the alerts judge: those of the reading, with a separate lower bound. */
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

  private void countKneeDetections() {
    boolean model = estimator.kneeByModel();
    boolean powerDrop = estimator.kneeByPowerDrop();
    if (model && powerDrop) {
      kneeByBoth++;
    } else if (model) {
      kneeByModelOnly++;
    } else {
      kneeByPowerDropOnly++;
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
   * The origin of the time model in use.
   *
   * @return never null
   */
  public TimingStatus timingStatus() {
    return estimator.timingStatus();
  }

  /**
   * The time model in use and its origin, as one sentence for a status line; if it was found from
   * the readings, with the lines that state it in the profile. Allocates a new text, so do not call
   * it for every sample.
   *
   * @return never empty, without a full stop
   */
  public String timingWords() {
    return TimingWords.of(timingStatus(), timing());
  }

  /**
   * The latest reading; the next update refills it.
   *
   * @return never null
   */
  public MarginReading reading() {
    return reading;
  }

  /**
   * The highest active alert level.
   *
   * @return NONE if no alert is active
   */
  public AlertLevel level() {
    return alerts.level();
  }

  /**
   * Acknowledges the active level as {@link AlertMonitor#acknowledge()} does: it is silent until it
   * is cleared or a higher level is raised. May be called from any thread; it takes effect with the
   * next call of the feeding thread.
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
   * A copy of the last reading, for any thread: all of its figures belong to the same instant.
   * Never blocks the feeding thread.
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
   * Lower bound of the margin as last judged by the alert rules.
   *
   * @return percent of the decaying peak demand
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
   * Whether the samples cannot come from this array; there is then no estimate.
   *
   * @return as {@link SampleGate#wrongArray()}
   */
  public boolean wrongArray() {
    return gate.wrongArray();
  }

  /**
   * The counts of verdicts so far; the returned object stays up to date.
   *
   * @return never null
   */
  public GateCounts gate() {
    return gate;
  }

  /**
   * Counts a sample whose time is not a number.
   *
   * @return {@link Verdict#NOT_A_NUMBER}
   */
  public Verdict refuseUntimed() {
    return gate.refuseUntimed();
  }

  /**
   * Number of samples past the knee that only the model detected.
   *
   * @return count
   */
  public long kneeByModelOnly() {
    return kneeByModelOnly;
  }

  /**
   * Number of samples past the knee that only the model-free detector found (throttle rises while
   * power falls).
   *
   * @return count
   */
  public long kneeByPowerDropOnly() {
    return kneeByPowerDropOnly;
  }

  /**
   * Number of samples past the knee that both detected.
   *
   * @return count
   */
  public long kneeByBoth() {
    return kneeByBoth;
  }

  /**
   * Time between two instants, s; 0 if the later one is not later. A difference that overflows
   * counts as the longest.
   */
  private static double secondsSince(long earlier, long later) {
    if (later <= earlier) {
      return 0;
    }
    long nanos = later - earlier;
    return (nanos < 0 ? Long.MAX_VALUE : nanos) * NANOS;
  }

  /**
   * Plausibility limits of a craft's samples.
   *
   * @param settings settings of the craft, not null
   * @return never null
   */
  public static GateLimits limitsOf(EstimatorSettings settings) {
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
