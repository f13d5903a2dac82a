package org.solarmargin.core.gate;

import org.solarmargin.core.timing.TimeModel;

/**
 * Judges each sample before the estimator sees it, and counts what it refused.
 *
 * <p>A bus voltage that no light on this array could give is not bad luck but a wrong cell count, a
 * wrong sensor scale or the wrong log (common practice, no source). Once {@value #IMPOSSIBLE_MIN}
 * such samples have come and they are more than one in five, {@link #wrongArray()} says so: nothing
 * may be estimated on, until {@value #RECOVERED} samples in a row are possible. Fewer are a
 * sensor's glitch.
 *
 * <p>No allocation after construction; one thread at a time.
 */
public final class SampleGate implements GateCounts {

  /** A command so far ahead must be borne out by another one, ns. */
  private static final long FAR_NANOS = 10_000_000_000L;

  private static final int IMPOSSIBLE_MIN = 5;
  private static final int IMPOSSIBLE_SHARE = 5;
  private static final int RECOVERED = 25;

  /** A pair that repeats for so long while the throttle rests is a reading after all. */
  private static final long STILL_NANOS = 1_000_000_000L;

  private static final double STILL_MOVE = 0.005;
  private static final long GAP_NANOS = 500_000_000L;
  private static final int GAP_INTERVALS = 5;
  private static final Verdict[] VERDICTS = Verdict.values();

  private final GateLimits limits;
  private final ReadingRhythm volts;
  private final ReadingRhythm amps;
  private final long[] counts = new long[VERDICTS.length];

  private boolean started;
  private long lastNanos;
  private boolean commanded;
  private long commandNanos;
  private double throttle;
  private boolean voltsFresh;
  private boolean ampsFresh;
  private long aheadNanos;
  private boolean ahead;
  private long freshNanos;
  private double freshThrottle;
  private long usualNanos;
  private long gaps;
  private long samples;
  private boolean wrongArray;
  private long judged;
  private long impossible;
  private int possibleInARow;

  /**
   * A gate that has seen nothing.
   *
   * @param limits what can be true, not null
   * @param timing stated intervals of fresh readings, not null
   */
  public SampleGate(GateLimits limits, TimeModel timing) {
    this.limits = limits;
    volts = new ReadingRhythm(timing.volts().periodSeconds());
    amps = new ReadingRhythm(timing.amps().periodSeconds());
  }

  /** Back to the state after construction; counts are cleared. */
  public void reset() {
    java.util.Arrays.fill(counts, 0);
    volts.reset();
    amps.reset();
    started = false;
    lastNanos = 0;
    commanded = false;
    commandNanos = 0;
    ahead = false;
    aheadNanos = 0;
    throttle = 0;
    voltsFresh = false;
    ampsFresh = false;
    freshNanos = 0;
    freshThrottle = 0;
    usualNanos = 0;
    gaps = 0;
    samples = 0;
    wrongArray = false;
    judged = 0;
    impossible = 0;
    possibleInARow = 0;
  }

  /**
   * Judges a sample whose readings and throttle come together, and counts it.
   *
   * @param timeNanos time since any fixed origin, ns
   * @param busVolts V, any value; NaN is no new reading
   * @param busAmps A, any value; NaN is no new reading
   * @param newThrottle any value; NaN is no new command
   * @return the verdict, never null; time moves on with every sample whose time is in order
   */
  public Verdict judge(long timeNanos, double busVolts, double busAmps, double newThrottle) {
    Verdict time = decideTime(timeNanos);
    if (time != Verdict.ACCEPTED) {
      return tally(time);
    }
    followTime(timeNanos);
    Verdict command =
        Double.isNaN(newThrottle) && commanded ? Verdict.ACCEPTED : decideThrottle(newThrottle);
    if (command != Verdict.ACCEPTED) {
      return tally(command);
    }
    throttle = Double.isNaN(newThrottle) ? throttle : newThrottle;
    commandNanos = timeNanos;
    commanded = true;
    return tally(decideReading(timeNanos, busVolts, busAmps));
  }

  /**
   * Judges a command that comes alone; only a refused one is counted.
   *
   * @param timeNanos when it was given, ns
   * @param newThrottle any value
   * @return the verdict, never null
   */
  public Verdict judgeCommand(long timeNanos, double newThrottle) {
    Verdict verdict = decideThrottle(newThrottle);
    if (commanded && timeNanos < commandNanos) {
      verdict = Verdict.TIME_BACKWARD;
    } else if (commanded && timeNanos - commandNanos > FAR_NANOS && !bornOut(timeNanos)) {
      verdict = Verdict.TIME_AHEAD;
    }
    if (verdict != Verdict.ACCEPTED) {
      return tally(verdict);
    }
    throttle = newThrottle;
    commandNanos = timeNanos;
    commanded = true;
    return verdict;
  }

  /**
   * Judges a reading that comes alone, and counts it.
   *
   * @param timeNanos when it was read, ns
   * @param busVolts V, any value; NaN is no new reading
   * @param busAmps A, any value; NaN is no new reading
   * @return the verdict, never null; time moves on with every reading whose time is in order
   */
  public Verdict judgeReading(long timeNanos, double busVolts, double busAmps) {
    Verdict time = decideTime(timeNanos);
    if (time != Verdict.ACCEPTED) {
      return tally(time);
    }
    followTime(timeNanos);
    return tally(decideReading(timeNanos, busVolts, busAmps));
  }

  /** Whether a command far ahead comes soon after another one far ahead. */
  private boolean bornOut(long timeNanos) {
    long since = timeNanos - aheadNanos;
    boolean agrees = ahead && since >= 0 && since <= FAR_NANOS;
    ahead = !agrees;
    aheadNanos = timeNanos;
    return agrees;
  }

  private Verdict tally(Verdict verdict) {
    counts[verdict.ordinal()]++;
    samples++;
    judged++;
    if (verdict == Verdict.VOLTAGE_IMPOSSIBLE) {
      impossible++;
      possibleInARow = 0;
      wrongArray |= impossible >= IMPOSSIBLE_MIN && impossible * IMPOSSIBLE_SHARE > judged;
    } else if (!verdict.refused()) {
      possibleInARow++;
      if (wrongArray && possibleInARow >= RECOVERED) {
        wrongArray = false;
        impossible = 0;
        judged = 0;
      }
    }
    return verdict;
  }

  /**
   * Counts the last accepted sample as something else: the estimator found it a spike, or no newer
   * instant in it.
   *
   * @param verdict what it is, not null
   * @return the same
   */
  public Verdict recount(Verdict verdict) {
    counts[Verdict.ACCEPTED.ordinal()]--;
    counts[verdict.ordinal()]++;
    return verdict;
  }

  /**
   * Counts a sample that is refused for its time.
   *
   * @param verdict why, not null
   * @return the same
   */
  public Verdict refuse(Verdict verdict) {
    return tally(verdict);
  }

  /**
   * Counts a sample whose time cannot be expressed at all.
   *
   * @return {@link Verdict#NOT_A_NUMBER}
   */
  public Verdict refuseUntimed() {
    counts[Verdict.NOT_A_NUMBER.ordinal()]++;
    samples++;
    return Verdict.NOT_A_NUMBER;
  }

  private Verdict decideTime(long timeNanos) {
    if (started && timeNanos <= lastNanos) {
      return timeNanos == lastNanos ? Verdict.TIME_REPEATED : Verdict.TIME_BACKWARD;
    }
    return Verdict.ACCEPTED;
  }

  private static Verdict decideThrottle(double throttle) {
    if (!finite(throttle)) {
      return Verdict.NOT_A_NUMBER;
    }
    return throttle < 0 || throttle > 1 ? Verdict.THROTTLE_OUT_OF_RANGE : Verdict.ACCEPTED;
  }

  private Verdict decideReading(long timeNanos, double busVolts, double busAmps) {
    voltsFresh = false;
    ampsFresh = false;
    if (Double.isInfinite(busVolts) || Double.isInfinite(busAmps)) {
      return Verdict.NOT_A_NUMBER;
    }
    Verdict range = decideRange(busVolts, busAmps);
    if (range != Verdict.ACCEPTED) {
      return range;
    }
    boolean hasVolts = !Double.isNaN(busVolts);
    boolean hasAmps = !Double.isNaN(busAmps);
    // both are told of every reading, whatever the other finds
    if (hasVolts) {
      volts.take(timeNanos, busVolts, busAmps, throttle);
    }
    if (hasAmps) {
      amps.take(timeNanos, busAmps, busVolts, throttle);
    }
    if (volts.frozen() || amps.frozen()) {
      return Verdict.FROZEN;
    }
    boolean pairChanged = (hasVolts && volts.changed()) || (hasAmps && amps.changed());
    boolean still =
        timeNanos - freshNanos >= STILL_NANOS && Math.abs(throttle - freshThrottle) < STILL_MOVE;
    boolean fresh = pairChanged || still || (volts.coarse() && amps.coarse());
    voltsFresh = hasVolts && fresh && freshBeside(volts, amps);
    ampsFresh = hasAmps && fresh && freshBeside(amps, volts);
    if (!voltsFresh && !ampsFresh) {
      return Verdict.NO_NEW_READING;
    }
    freshNanos = timeNanos;
    freshThrottle = throttle;
    return Verdict.ACCEPTED;
  }

  /**
   * Whether a channel's reading is fresh in a sample in which one of the two has changed. One that
   * is sampled slowly is so when it has changed, or when both are slow and it was due: equal by
   * chance.
   */
  private static boolean freshBeside(ReadingRhythm channel, ReadingRhythm other) {
    return channel.changed() || !channel.held() || (other.held() && channel.due());
  }

  /** NaN is in every range. */
  private Verdict decideRange(double busVolts, double busAmps) {
    if (busVolts > limits.highestVolts()) {
      return Verdict.VOLTAGE_IMPOSSIBLE;
    }
    if (busVolts < -limits.slackVolts()) {
      return Verdict.VOLTAGE_NEGATIVE;
    }
    if (busAmps > limits.highestAmps()) {
      return Verdict.CURRENT_IMPOSSIBLE;
    }
    return busAmps < -limits.slackAmps() ? Verdict.CURRENT_NEGATIVE : Verdict.ACCEPTED;
  }

  private void followTime(long timeNanos) {
    if (started) {
      long difference = timeNanos - lastNanos;
      long interval = difference < 0 ? Long.MAX_VALUE : difference;
      if (interval > GAP_NANOS && usualNanos > 0 && interval / GAP_INTERVALS > usualNanos) {
        gaps++;
      } else {
        usualNanos = usualNanos == 0 ? interval : usualNanos + (interval - usualNanos) / 16;
      }
    }
    lastNanos = timeNanos;
    started = true;
  }

  /**
   * The last command accepted.
   *
   * @return 0 to 1; 0 before the first
   */
  public double throttle() {
    return throttle;
  }

  /**
   * Whether the last reading brought a fresh voltage.
   *
   * @return false if it was refused, absent or a repeat
   */
  public boolean voltsFresh() {
    return voltsFresh;
  }

  /**
   * Whether the last reading brought a fresh current.
   *
   * @return false if it was refused, absent or a repeat
   */
  public boolean ampsFresh() {
    return ampsFresh;
  }

  @Override
  public long count(Verdict verdict) {
    return counts[verdict.ordinal()];
  }

  @Override
  public long samples() {
    return samples;
  }

  @Override
  public long gaps() {
    return gaps;
  }

  @Override
  public boolean wrongArray() {
    return wrongArray;
  }

  @Override
  public GateLimits limits() {
    return limits;
  }

  private static boolean finite(double value) {
    return Math.abs(value) <= Double.MAX_VALUE;
  }
}
