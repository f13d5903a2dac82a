package org.solarmargin.core.alert;

import java.util.Arrays;
import org.solarmargin.core.lag.FirstOrderLag;
import org.solarmargin.core.state.StateBytes;

/**
 * Applies {@link AlertRules} to readings and notifies a listener whenever a level is raised or
 * cleared.
 *
 * <p>The lower bound of the margin is judged against a peak demand that decays slowly, so that
 * recent gusts count. A step up raises the new level; a step down clears the level left. Flight
 * past the knee and available power below the demand raise a level without its on-delay, and so do
 * samples that have been refused for {@link #BLIND_SECONDS} (ADVISORY and CAUTION only).
 *
 * <p>At most three levels are raised in any minute of a flight, whatever the input: ADVISORY is
 * raised only if no level was raised in the last minute, CAUTION only if at most one was. WARNING
 * is never held back, because it is not cleared while three raises lie within the minute ({@code
 * AlertMonitorProperties}).
 *
 * <p>No allocation after construction; one thread at a time.
 */
public final class AlertMonitor {

  /** The time over which raises are counted: one minute, ns. */
  public static final long MINUTE_NANOS = 60_000_000_000L;

  /** The highest number of raises in any minute of a flight. */
  public static final int RAISES_A_MINUTE = 3;

  /**
   * Samples that have been refused for this long raise ADVISORY and CAUTION, s. Engineering
   * judgement, not tuned.
   */
  public static final double BLIND_SECONDS = 1;

  /**
   * A level is cleared only once the time to zero margin exceeds its threshold by this factor.
   * Engineering judgement, not tuned.
   */
  public static final double TIME_RELEASE = 1.5;

  /** Length of the saved state, bytes. */
  public static final int STATE_BYTES =
      7 * Integer.BYTES + RAISES_A_MINUTE * Long.BYTES + 10 * Double.BYTES + StateBytes.TAIL;

  static final int STATE_MARK = 0x534d414c;
  static final int STATE_VERSION = 1;

  private static final AlertReason[] REASONS = AlertReason.values();
  private static final AlertLevel[] LEVELS = AlertLevel.values();
  private static final int WARNING = AlertLevel.WARNING.ordinal();

  private final LevelRule[] rules = new LevelRule[LEVELS.length];
  private final FirstOrderLag peakMemory;
  private final AlertListener listener;
  private final StateBytes bytes = new StateBytes(STATE_BYTES);

  private final AlertReason[] reasons = new AlertReason[LEVELS.length];
  private final boolean[] standing = new boolean[LEVELS.length];
  private final double[] onFor = new double[LEVELS.length];
  private final double[] offFor = new double[LEVELS.length];
  private final long[] raisedAt = new long[RAISES_A_MINUTE];
  private int raised;
  private int acknowledged;
  private double peakDemand;
  private double blindSeconds;
  private double marginPercent;
  private double secondsToZero;
  private long judgedNanos;

  /**
   * Creates a monitor with no active alert.
   *
   * @param rules thresholds, not null
   * @param listener is called for each raise and clear, not null
   */
  public AlertMonitor(AlertRules rules, AlertListener listener) {
    for (int i = 1; i < LEVELS.length; i++) {
      this.rules[i] = rules.of(LEVELS[i]);
    }
    this.peakMemory = new FirstOrderLag(rules.peakMemorySeconds());
    this.listener = listener;
    reset();
  }

  /** Returns to the state after construction, without a call of the listener. */
  public void reset() {
    Arrays.fill(standing, false);
    Arrays.fill(onFor, 0);
    Arrays.fill(offFor, 0);
    raised = 0;
    acknowledged = 0;
    judgedNanos = 0;
    peakDemand = 0;
    blindSeconds = 0;
    marginPercent = Double.POSITIVE_INFINITY;
    secondsToZero = Double.POSITIVE_INFINITY;
  }

  /**
   * Judges one reading.
   *
   * @param timeNanos time of the sample, ns
   * @param seconds time since the last call, s, 0 or more
   * @param phase what may be judged, not null
   * @param power the power figures; read only in the air and unless the phase is BLIND, and not
   *     retained
   */
  public void update(long timeNanos, double seconds, FlightPhase phase, PowerFigures power) {
    judgedNanos = timeNanos;
    if (phase == FlightPhase.GROUNDED) {
      peakDemand = 0;
      blindSeconds = 0;
      clearAll(timeNanos);
      return;
    }
    boolean blind = phase == FlightPhase.BLIND;
    boolean pastKnee = phase == FlightPhase.PAST_KNEE;
    boolean judge = phase == FlightPhase.TRUSTED || pastKnee;
    boolean gone = false;
    if (blind) {
      blindSeconds += seconds;
    } else {
      double demand = power.steadyDemandWatts();
      blindSeconds = 0;
      peakDemand = Math.max(demand, peakDemand * peakMemory.keep(seconds));
      marginPercent = 100 * (power.availableLowWatts() / Math.max(peakDemand, 1e-9) - 1);
      secondsToZero = power.secondsToZero();
      gone = judge && power.availableWatts() < demand;
    }
    // highest level first, so that one condition raises one alert, at its own level
    for (int i = WARNING; i >= 1; i--) {
      judgeLevel(i, timeNanos, seconds, phase, gone);
    }
    acknowledged = Math.min(acknowledged, level().ordinal());
  }

  private void judgeLevel(int i, long timeNanos, double seconds, FlightPhase phase, boolean gone) {
    LevelRule rule = rules[i];
    boolean pastKnee = phase == FlightPhase.PAST_KNEE;
    boolean judge = phase == FlightPhase.TRUSTED || pastKnee;
    boolean low = gone || (judge && marginPercent < rule.marginPercent());
    boolean falling = judge && secondsToZero < rule.timeSeconds();
    boolean blindNow = blindSeconds >= BLIND_SECONDS && i < WARNING;
    if (phase == FlightPhase.BLIND && !blindNow) {
      // the last judgement is kept, so that scattered refused samples do not defer an alert
      onFor[i] += onFor[i] > 0 ? seconds : 0;
      return;
    }
    boolean on = low || falling || pastKnee || blindNow;
    boolean clear =
        !on
            && blindSeconds == 0
            && marginPercent > rule.marginPercent() + rule.hysteresisPercent()
            && !(secondsToZero < rule.timeSeconds() * TIME_RELEASE);
    onFor[i] = on ? onFor[i] + seconds : 0;
    offFor[i] = clear ? offFor[i] + seconds : 0;
    if (!standing[i] && on && (pastKnee || gone || blindNow || onFor[i] >= rule.onDelaySeconds())) {
      AlertReason reason =
          pastKnee
              ? AlertReason.PAST_KNEE
              : low ? AlertReason.LOW_MARGIN : falling ? AlertReason.FALLING : AlertReason.NO_DATA;
      raise(i, timeNanos, reason);
    } else if (standing[i] && clear && offFor[i] >= rule.offDelaySeconds()) {
      lower(i, timeNanos, AlertReason.RECOVERED);
    }
  }

  /** Raises a level; the listener is called only if it is above all active levels. */
  private void raise(int i, long timeNanos, AlertReason reason) {
    reasons[i] = reason;
    if (level().ordinal() > i) {
      standing[i] = true;
      return;
    }
    if (raisesWithin(timeNanos) >= i) {
      return;
    }
    standing[i] = true;
    raisedAt[raised % RAISES_A_MINUTE] = timeNanos;
    raised++;
    listener.alert(timeNanos, LEVELS[i], true, reason, marginPercent, secondsToZero);
  }

  /** Clears a level; the listener is called only if it was the highest active level. */
  private void lower(int i, long timeNanos, AlertReason reason) {
    if (i == WARNING && raisesWithin(timeNanos) >= RAISES_A_MINUTE) {
      return;
    }
    boolean highest = level().ordinal() == i;
    standing[i] = false;
    offFor[i] = 0;
    if (highest) {
      listener.alert(timeNanos, LEVELS[i], false, reason, marginPercent, secondsToZero);
    }
  }

  private void clearAll(long timeNanos) {
    Arrays.fill(onFor, 0);
    Arrays.fill(offFor, 0);
    raised = 0;
    acknowledged = 0;
    for (int i = WARNING; i >= 1; i--) {
      if (standing[i]) {
        lower(i, timeNanos, AlertReason.LANDED);
      }
    }
  }

  private int raisesWithin(long timeNanos) {
    int count = 0;
    for (int i = 0; i < Math.min(raised, RAISES_A_MINUTE); i++) {
      if (timeNanos - raisedAt[i] < MINUTE_NANOS) {
        count++;
      }
    }
    return count;
  }

  /**
   * Saves the active alerts and all timers, so that a restart in flight silences no alert. Does not
   * allocate.
   *
   * @param to the array to write to
   * @param at index of the first of {@link #STATE_BYTES} bytes
   */
  public void save(byte[] to, int at) {
    bytes.startWriting(to, at);
    bytes.putInt(STATE_MARK);
    bytes.putInt(STATE_VERSION);
    for (int i = 1; i < LEVELS.length; i++) {
      bytes.putInt(standing[i] ? 1 + reasons[i].ordinal() : 0);
    }
    bytes.putInt(acknowledged);
    // position of the oldest of the last raises, and whether the ring of raises was full
    bytes.putInt(raised < RAISES_A_MINUTE ? raised : RAISES_A_MINUTE + raised % RAISES_A_MINUTE);
    for (long nanos : raisedAt) {
      bytes.putLong(judgedNanos - nanos);
    }
    for (int i = 1; i < LEVELS.length; i++) {
      bytes.put(onFor[i]);
      bytes.put(offFor[i]);
    }
    bytes.put(peakDemand);
    bytes.put(blindSeconds);
    bytes.put(marginPercent);
    bytes.put(secondsToZero);
    bytes.finishWriting();
  }

  /**
   * Restores a state written by {@link #save}. The listener is called again for the highest active
   * level, with its reason, because a restarted program would otherwise sound nothing. That raise
   * does not count towards the limit per minute. Damaged bytes are refused, and no alert is then
   * active.
   *
   * @param from the array that holds the saved state
   * @param at index of its first byte
   * @param savedNanos when it was saved, on the clock of the samples to come, ns
   * @param nowNanos the time now, ns
   * @return true if the state was restored
   */
  public boolean restore(byte[] from, int at, long savedNanos, long nowNanos) {
    if (!bytes.startReading(from, at) || !read(savedNanos)) {
      reset();
      return false;
    }
    judgedNanos = savedNanos;
    AlertLevel level = level();
    if (level != AlertLevel.NONE) {
      listener.alert(nowNanos, level, true, reasons[level.ordinal()], marginPercent, secondsToZero);
    }
    return true;
  }

  /** Reads the state; false if its values are not possible. */
  private boolean read(long savedNanos) {
    boolean possible = bytes.getInt() == STATE_MARK && bytes.getInt() == STATE_VERSION;
    for (int i = 1; i < LEVELS.length; i++) {
      int saved = bytes.getInt();
      possible &= saved >= 0 && saved <= REASONS.length;
      standing[i] = saved != 0;
      reasons[i] = REASONS[Math.max(0, Math.min(saved, REASONS.length) - 1)];
    }
    acknowledged = bytes.getInt();
    raised = bytes.getInt();
    possible &= acknowledged >= 0 && acknowledged <= WARNING;
    possible &= raised >= 0 && raised < 2 * RAISES_A_MINUTE;
    for (int i = 0; i < RAISES_A_MINUTE; i++) {
      raisedAt[i] = savedNanos - bytes.getLong();
    }
    for (int i = 1; i < LEVELS.length; i++) {
      onFor[i] = bytes.get();
      offFor[i] = bytes.get();
      possible &= onFor[i] >= 0 && offFor[i] >= 0;
    }
    peakDemand = bytes.get();
    blindSeconds = bytes.get();
    marginPercent = bytes.get();
    secondsToZero = bytes.get();
    return possible
        && peakDemand >= 0
        && peakDemand <= Double.MAX_VALUE
        && blindSeconds >= 0
        && !Double.isNaN(marginPercent)
        && !Double.isNaN(secondsToZero);
  }

  /**
   * The highest active level.
   *
   * @return NONE if no alert is active
   */
  public AlertLevel level() {
    for (int i = WARNING; i >= 1; i--) {
      if (standing[i]) {
        return LEVELS[i];
      }
    }
    return AlertLevel.NONE;
  }

  /**
   * Acknowledges the active level: it is silent until it is cleared or a higher level is raised.
   * Nothing else changes.
   */
  public void acknowledge() {
    acknowledged = level().ordinal();
  }

  /**
   * The level to sound: the highest active level, unless it was acknowledged.
   *
   * @return NONE if no alert is active or the level was acknowledged
   */
  public AlertLevel sounding() {
    AlertLevel standingNow = level();
    return standingNow.ordinal() > acknowledged ? standingNow : AlertLevel.NONE;
  }

  /**
   * Lower bound of the margin as last judged.
   *
   * @return percent of the decaying peak demand; infinite before the first judgement
   */
  public double marginPercent() {
    return marginPercent;
  }
}
