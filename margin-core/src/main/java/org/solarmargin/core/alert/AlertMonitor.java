package org.solarmargin.core.alert;

import java.util.Arrays;
import org.solarmargin.core.lag.FirstOrderLag;
import org.solarmargin.core.state.StateBytes;

/**
 * Applies {@link AlertRules} to readings and tells a listener of each step.
 *
 * <p>The margin is judged on its lower bound against a demand that remembers the peaks of recent
 * gusts. A step up raises the new level; a step down clears the level left. Past the knee,
 * available power under the demand, and blind flight need no delay.
 *
 * <p>At most three levels are raised in any minute of a flight, whatever the input: ADVISORY is
 * raised only if none was raised in the last minute, CAUTION if at most one was, and WARNING needs
 * no permission because it is not cleared while three raises lie within the minute ({@code
 * AlertMonitorProperties}).
 *
 * <p>No allocation after construction; one thread at a time.
 */
public final class AlertMonitor {

  /** A minute, ns: the time over which raises are counted. */
  public static final long MINUTE_NANOS = 60_000_000_000L;

  /** Most levels that are raised in any minute of a flight. */
  public static final int RAISES_A_MINUTE = 3;

  /** Samples refused for so long raise ADVISORY and CAUTION, s. */
  public static final double BLIND_SECONDS = 1;

  /** A level is cleared only once the time to zero margin exceeds its threshold by this factor. */
  public static final double TIME_RELEASE = 1.5;

  /** Length of saved alerts, bytes. */
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
   * A monitor with nothing standing.
   *
   * @param rules thresholds, not null
   * @param listener told of each step, not null
   */
  public AlertMonitor(AlertRules rules, AlertListener listener) {
    for (int i = 1; i < LEVELS.length; i++) {
      this.rules[i] = rules.of(LEVELS[i]);
    }
    this.peakMemory = new FirstOrderLag(rules.peakMemorySeconds());
    this.listener = listener;
    reset();
  }

  /** Back to the state after construction; the listener is not told. */
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
   * @param seconds since the last call, s, 0 or more
   * @param phase what may be judged, not null
   * @param power the figures, read only in the air and unless blind; not kept
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
    // highest first, so that one condition is told once, at its own level
    for (int i = WARNING; i >= 1; i--) {
      judgeLevel(i, timeNanos, seconds, judge, pastKnee, gone);
    }
    acknowledged = Math.min(acknowledged, level().ordinal());
  }

  private void judgeLevel(
      int i, long timeNanos, double seconds, boolean judge, boolean pastKnee, boolean gone) {
    LevelRule rule = rules[i];
    boolean low = gone || (judge && marginPercent < rule.marginPercent());
    boolean falling = judge && secondsToZero < rule.timeSeconds();
    boolean blindNow = blindSeconds >= BLIND_SECONDS && i < WARNING;
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

  /** Raises a level; told only if it is higher than what stands. */
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

  /** Clears a level; told only if it is the highest that stands. */
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
   * Saves what stands and for how long, so that a restart in flight silences nothing. Allocates
   * nothing.
   *
   * @param to where to
   * @param at first of {@link #STATE_BYTES} bytes
   */
  public void save(byte[] to, int at) {
    bytes.startWriting(to, at);
    bytes.putInt(STATE_MARK);
    bytes.putInt(STATE_VERSION);
    for (int i = 1; i < LEVELS.length; i++) {
      bytes.putInt(standing[i] ? 1 + reasons[i].ordinal() : 0);
    }
    bytes.putInt(acknowledged);
    // which of the last raises is the oldest, and whether there were as many
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
   * Takes up what {@link #save} wrote. The listener is told again of the highest level that stands,
   * with its reason: a program that starts anew has nothing else to sound. That raise is not
   * counted towards those of the minute. Damaged bytes are refused; nothing then stands.
   *
   * @param from what {@link #save} wrote
   * @param at first byte of it
   * @param savedNanos when it was saved, on the clock of the samples to come, ns
   * @param nowNanos the time now, ns
   * @return true if taken up
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

  /** Fills the state; false if it cannot be one. */
  private boolean read(long savedNanos) {
    boolean possible = bytes.getInt() == STATE_MARK && bytes.getInt() == STATE_VERSION;
    for (int i = 1; i < LEVELS.length; i++) {
      int stands = bytes.getInt();
      possible &= stands >= 0 && stands <= REASONS.length;
      standing[i] = stands != 0;
      reasons[i] = REASONS[Math.max(0, Math.min(stands, REASONS.length) - 1)];
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
   * The highest standing level.
   *
   * @return NONE if nothing stands
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
   * The flyer has seen what stands: it stays silent until it clears or a higher level is raised.
   * Nothing else changes.
   */
  public void acknowledge() {
    acknowledged = level().ordinal();
  }

  /**
   * The level to sound: the highest that stands, unless it was acknowledged.
   *
   * @return NONE if nothing stands or it was acknowledged
   */
  public AlertLevel sounding() {
    AlertLevel standingNow = level();
    return standingNow.ordinal() > acknowledged ? standingNow : AlertLevel.NONE;
  }

  /**
   * Lower bound of the margin that the rules judged last.
   *
   * @return percent of the remembered peak of demand; infinite before the first judgement
   */
  public double marginPercent() {
    return marginPercent;
  }
}
