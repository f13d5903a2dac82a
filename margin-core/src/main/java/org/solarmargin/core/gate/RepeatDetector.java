package org.solarmargin.core.gate;

/**
 * Distinguishes fresh readings of one channel from repeated ones, and repeated readings from those
 * of a frozen sensor.
 *
 * <p>An autopilot that samples a sensor more slowly than it logs repeats each reading; the number
 * of repeats is learned from the lengths of the runs. A sensor is considered frozen when it repeats
 * one exact value in {@value #REPEATS} samples or more while the throttle moves, for three of its
 * usual intervals plus 0.1 s and at least 0.15 s; before the usual interval is known, for 1.2 s.
 * (Common practice, no source: quantised sensors repeat a value now and then, but not that often.
 * The constants are engineering judgement unless they state otherwise.) A channel that usually
 * changes by little more than its rounding step repeats a value for as long as the flight is calm:
 * the throttle must then have moved {@value #COARSE_SPANS} times as far as it usually does between
 * two changes of the reading. A frozen sensor is accepted again after two changes with less than
 * that time between them.
 */
final class RepeatDetector {

  private static final int REPEATS = 8;
  private static final int KNOWN_RUNS = 4;
  private static final double MEMORY_RUNS = 8;

  /** Mean length of the runs from which a channel counts as sampled more slowly than logged. */
  private static final double HELD_RUN = 2.5;

  /** Number of repeats in succession that are not chance before the usual run is known. */
  private static final int MANY_REPEATS = 4;

  private static final double DUE_SHARE = 0.8;
  private static final double COARSE_STEPS = 2.5;

  /** Variance of the run lengths over their squared mean; it is near zero at a steady interval. */
  private static final double IRREGULAR = 0.15;

  private static final long LEAST_NANOS = 150_000_000L;
  private static final long UNKNOWN_NANOS = 1_200_000_000L;
  private static final long SLACK_NANOS = 100_000_000L;
  private static final int PERIODS = 3;
  private static final double THROTTLE_MOVE = 0.005;
  private static final double LONE_THROTTLE_MOVE = 0.01;

  /**
   * Chosen on flights rounded to 0.05 and 0.1 V and A: from 4 on, no channel is called frozen
   * there.
   */
  private static final double COARSE_SPANS = 5;

  private final long statedNanos;

  private double value;
  private boolean changed;
  private int run;
  private long since;
  private double throttleLow;
  private double throttleHigh;
  private double other;
  private boolean otherMoved;
  private double usualRun;
  private double usualSquare;
  private double usualNanos;
  private double usualMove;
  private double usualSpan;
  private double leastMove;
  private int runs;
  private boolean frozen;
  private int changesWhileFrozen;

  /**
   * Creates a detector without readings.
   *
   * @param periodSeconds stated interval of fresh readings, s; 0 if none is stated
   */
  RepeatDetector(double periodSeconds) {
    statedNanos = Math.round(periodSeconds * 1e9);
    reset();
  }

  void reset() {
    value = Double.NaN;
    changed = false;
    run = 0;
    usualRun = 1;
    usualSquare = 1;
    usualNanos = 0;
    usualMove = 0;
    usualSpan = 0;
    leastMove = Double.POSITIVE_INFINITY;
    runs = 0;
    frozen = false;
    changesWhileFrozen = 0;
  }

  /** Takes a plausible reading, with the other channel's reading and the throttle at that time. */
  void take(long nanos, double now, double otherNow, double throttle) {
    boolean first = Double.isNaN(value);
    changed = now != value;
    run++;
    if (changed) {
      if (!first) {
        endRun(nanos, Math.abs(now - value));
      }
      value = now;
      run = 0;
      since = nanos;
      other = otherNow;
      otherMoved = false;
      throttleLow = throttle;
      throttleHigh = throttle;
      return;
    }
    otherMoved |= otherNow != other;
    throttleLow = Math.min(throttleLow, throttle);
    throttleHigh = Math.max(throttleHigh, throttle);
    boolean tooLong = run >= REPEATS && nanos - since >= limitNanos();
    if (tooLong) {
      changesWhileFrozen = 0;
      double required = otherMoved ? THROTTLE_MOVE : LONE_THROTTLE_MOVE;
      if (coarse()) {
        required = Math.max(required, COARSE_SPANS * usualSpan);
      }
      frozen |= throttleHigh - throttleLow >= required;
    }
  }

  private void endRun(long nanos, double move) {
    if (frozen) {
      changesWhileFrozen++;
      frozen = changesWhileFrozen < 2;
      return;
    }
    runs++;
    double share = 1 / Math.min(runs, MEMORY_RUNS);
    usualRun += share * (run - usualRun);
    usualSquare += share * ((double) run * run - usualSquare);
    usualNanos += share * (nanos - since - usualNanos);
    usualMove += share * (move - usualMove);
    usualSpan += share * (throttleHigh - throttleLow - usualSpan);
    leastMove = move < leastMove ? move : leastMove;
  }

  private long limitNanos() {
    if (statedNanos == 0 && runs < KNOWN_RUNS) {
      return UNKNOWN_NANOS;
    }
    return Math.max(PERIODS * Math.max((long) usualNanos, statedNanos) + SLACK_NANOS, LEAST_NANOS);
  }

  /**
   * Whether the reading usually changes by little more than its rounding step, after runs of
   * irregular length: a repeat then counts as a reading.
   */
  boolean coarse() {
    boolean irregular = usualSquare - usualRun * usualRun > IRREGULAR * usualRun * usualRun;
    return runs >= KNOWN_RUNS && irregular && usualMove < COARSE_STEPS * leastMove;
  }

  /** Whether the last reading differs from the one before. */
  boolean changed() {
    return changed;
  }

  /**
   * Whether the sensor is sampled more slowly than logged, so that a repeat is not a reading.
   * Before the usual run is known, several repeats in succession or the first runs decide: a
   * filtered or coarse reading is equal now and then.
   */
  boolean held() {
    if (runs >= KNOWN_RUNS) {
      return usualRun >= HELD_RUN && !coarse();
    }
    return statedNanos > 0 || run >= MANY_REPEATS || (runs > 0 && usualRun >= HELD_RUN);
  }

  /**
   * Whether a new reading is due at the usual interval: an equal one is then fresh if the other
   * channel has changed.
   */
  boolean due() {
    return run >= DUE_SHARE * usualRun;
  }

  boolean frozen() {
    return frozen;
  }
}
