package org.solarmargin.core.gate;

import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.core.verdict.GateCounts;
import org.solarmargin.core.verdict.GateLimits;
import org.solarmargin.core.verdict.Verdict;

/**
 * Checks the plausibility of each sample before it reaches the estimator, and counts the refused
 * ones.
 *
 * <p>Repeated bus voltages that this array could not reach in any light mean a wrong cell count, a
 * wrong sensor scale or the wrong log (common practice, no source). Once there have been {@value
 * #IMPOSSIBLE_MIN} such voltages and they are more than one in five, {@link #wrongArray()} is true
 * and nothing may be estimated until {@value #RECOVERED} voltages in a row are plausible. Fewer are
 * treated as glitches of the sensor. Samples without a voltage do not count.
 *
 * <p>No allocation after construction; one thread at a time.
 */
public final class SampleGate implements GateCounts {

  /** A command that is this far ahead must be confirmed by another one, ns. */
  private static final long FAR_NANOS = 10_000_000_000L;

  private static final int IMPOSSIBLE_MIN = 5;
  private static final int IMPOSSIBLE_SHARE = 5;
  private static final int RECOVERED = 25;

  /** A pair that has repeated for this long while the throttle is constant counts as a reading. */
  private static final long STILL_NANOS = 1_000_000_000L;

  private static final double STILL_MOVE = 0.005;
  private static final long GAP_NANOS = 500_000_000L;
  private static final int GAP_INTERVALS = 5;
  private static final Verdict[] VERDICTS = Verdict.values();

  private final GateLimits limits;
  private final RepeatDetector volts;
  private final RepeatDetector amps;
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
   * Creates a gate that has judged nothing.
   *
   * @param limits plausibility limits, not null
   * @param timing stated intervals of fresh readings, not null
   */
  public SampleGate(GateLimits limits, TimeModel timing) {
    this.limits = limits;
    volts = new RepeatDetector(timing.volts().periodSeconds());
    amps = new RepeatDetector(timing.amps().periodSeconds());
  }

  /** Returns to the state after construction and clears the counts. */
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
   * Judges a sample that has both readings and throttle, and counts it.
   *
   * @param timeNanos time since any fixed origin, ns
   * @param busVolts V, any value; NaN means no new reading
   * @param busAmps A, any value; NaN means no new reading
   * @param newThrottle any value; NaN means no new command
   * @return the verdict, never null; time advances with every sample whose time is in order
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
   * Whether the throttle of the last sample was accepted, even if its readings were not.
   *
   * @param timeNanos time of that sample, ns
   * @return false if the sample was refused because of its time or its throttle
   */
  public boolean commandedAt(long timeNanos) {
    return commanded && commandNanos == timeNanos;
  }

  /**
   * Judges a command that arrives without readings; only a refused one is counted.
   *
   * @param timeNanos when it was given, ns
   * @param newThrottle any value
   * @return the verdict, never null
   */
  public Verdict judgeCommand(long timeNanos, double newThrottle) {
    Verdict verdict = decideThrottle(newThrottle);
    if (commanded && timeNanos < commandNanos) {
      verdict = Verdict.TIME_BACKWARD;
    } else if (commanded && timeNanos - commandNanos > FAR_NANOS && !confirmed(timeNanos)) {
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
   * Judges a reading that arrives without a command, and counts it.
   *
   * @param timeNanos when it was read, ns
   * @param busVolts V, any value; NaN means no new reading
   * @param busAmps A, any value; NaN means no new reading
   * @return the verdict, never null; time advances with every reading whose time is in order
   */
  public Verdict judgeReading(long timeNanos, double busVolts, double busAmps) {
    Verdict time = decideTime(timeNanos);
    if (time != Verdict.ACCEPTED) {
      return tally(time);
    }
    followTime(timeNanos);
    return tally(decideReading(timeNanos, busVolts, busAmps));
  }

  /** Whether a command that is far ahead follows soon after another one that is far ahead. */
  private boolean confirmed(long timeNanos) {
    long since = timeNanos - aheadNanos;
    boolean agrees = ahead && since >= 0 && since <= FAR_NANOS;
    ahead = !agrees;
    aheadNanos = timeNanos;
    return agrees;
  }

  private Verdict tally(Verdict verdict) {
    counts[verdict.ordinal()]++;
    samples++;
    return verdict;
  }

  /** Judges by one more voltage whether the samples can come from this array. */
  private void followVoltage(Verdict range) {
    judged++;
    if (range == Verdict.VOLTAGE_IMPOSSIBLE) {
      impossible++;
      wrongArray |= impossible >= IMPOSSIBLE_MIN && impossible * IMPOSSIBLE_SHARE > judged;
    }
    possibleInARow = range == Verdict.ACCEPTED ? possibleInARow + 1 : 0;
    if (wrongArray && possibleInARow >= RECOVERED) {
      wrongArray = false;
      impossible = 0;
      judged = 0;
    }
  }

  /**
   * Counts the last accepted sample under another verdict, because the estimator found it to be a
   * spike or not newer than the last.
   *
   * @param verdict the new verdict, not null
   * @return the same verdict
   */
  public Verdict recount(Verdict verdict) {
    counts[Verdict.ACCEPTED.ordinal()]--;
    counts[verdict.ordinal()]++;
    return verdict;
  }

  /**
   * Counts a sample that is refused because of its time.
   *
   * @param verdict the reason, not null
   * @return the same verdict
   */
  public Verdict refuse(Verdict verdict) {
    return tally(verdict);
  }

  /**
   * Counts a sample whose time is not a number.
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
    if (!Double.isNaN(busVolts)) {
      followVoltage(range);
    }
    if (range != Verdict.ACCEPTED) {
      return range;
    }
    boolean hasVolts = !Double.isNaN(busVolts);
    boolean hasAmps = !Double.isNaN(busAmps);
    // both detectors receive every reading, whatever the other one decides
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
   * Whether a channel's reading is fresh in a sample in which one of the two has changed. A slowly
   * sampled one is fresh if it has changed, or if both are sampled slowly and it was due, so that
   * it is equal by chance.
   */
  private static boolean freshBeside(RepeatDetector channel, RepeatDetector other) {
    return channel.changed() || !channel.held() || (other.held() && channel.due());
  }

  /** Checks the ranges; NaN passes. */
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
