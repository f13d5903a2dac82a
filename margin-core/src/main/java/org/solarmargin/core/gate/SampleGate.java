package org.solarmargin.core.gate;

/**
 * Judges each sample before the estimator sees it, and counts what it refused.
 *
 * <p>A bus voltage that no light on this array could give is not bad luck but a wrong cell count, a
 * wrong sensor scale or the wrong log (common practice, no source). Once {@value #IMPOSSIBLE_MIN}
 * such samples have come and they are more than one in five, {@link #wrongArray()} says so for
 * good: nothing may be estimated on. Fewer are a sensor's glitch.
 *
 * <p>No allocation after construction; one thread at a time.
 */
public final class SampleGate {

  private static final int IMPOSSIBLE_MIN = 5;
  private static final int IMPOSSIBLE_SHARE = 5;
  private static final long GAP_NANOS = 500_000_000L;
  private static final int GAP_INTERVALS = 5;
  private static final Verdict[] VERDICTS = Verdict.values();

  private final GateLimits limits;
  private final FreezeDetector voltsFreeze = new FreezeDetector();
  private final FreezeDetector ampsFreeze = new FreezeDetector();
  private final long[] counts = new long[VERDICTS.length];

  private boolean started;
  private long lastNanos;
  private long usualNanos;
  private long gaps;
  private long samples;
  private boolean wrongArray;

  /**
   * A gate that has seen nothing.
   *
   * @param limits what can be true, not null
   */
  public SampleGate(GateLimits limits) {
    this.limits = limits;
    reset();
  }

  /** Back to the state after construction; counts are cleared. */
  public void reset() {
    java.util.Arrays.fill(counts, 0);
    voltsFreeze.reset();
    ampsFreeze.reset();
    started = false;
    lastNanos = 0;
    usualNanos = 0;
    gaps = 0;
    samples = 0;
    wrongArray = false;
  }

  /**
   * Judges a sample and counts it.
   *
   * @param timeNanos time since any fixed origin, ns
   * @param busVolts V, any value
   * @param busAmps A, any value
   * @param throttle any value
   * @return the verdict, never null; time moves on with every sample whose time is in order
   */
  public Verdict judge(long timeNanos, double busVolts, double busAmps, double throttle) {
    Verdict verdict = decide(timeNanos, busVolts, busAmps, throttle);
    counts[verdict.ordinal()]++;
    samples++;
    if (verdict == Verdict.VOLTAGE_IMPOSSIBLE) {
      long impossible = counts[verdict.ordinal()];
      wrongArray |= impossible >= IMPOSSIBLE_MIN && impossible * IMPOSSIBLE_SHARE > samples;
    }
    return verdict;
  }

  /**
   * Moves an accepted sample to the refused ones: the estimator found it a spike.
   *
   * @return {@link Verdict#SPIKE}
   */
  public Verdict refuseAsSpike() {
    counts[Verdict.ACCEPTED.ordinal()]--;
    counts[Verdict.SPIKE.ordinal()]++;
    return Verdict.SPIKE;
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

  private Verdict decide(long timeNanos, double busVolts, double busAmps, double throttle) {
    if (started && timeNanos <= lastNanos) {
      return timeNanos == lastNanos ? Verdict.TIME_REPEATED : Verdict.TIME_BACKWARD;
    }
    followTime(timeNanos);
    if (!finite(busVolts) || !finite(busAmps) || !finite(throttle)) {
      return Verdict.NOT_A_NUMBER;
    }
    if (throttle < 0 || throttle > 1) {
      return Verdict.THROTTLE_OUT_OF_RANGE;
    }
    if (busVolts > limits.highestVolts()) {
      return Verdict.VOLTAGE_IMPOSSIBLE;
    }
    if (busVolts < -limits.slackVolts()) {
      return Verdict.VOLTAGE_NEGATIVE;
    }
    if (busAmps > limits.highestAmps()) {
      return Verdict.CURRENT_IMPOSSIBLE;
    }
    if (busAmps < -limits.slackAmps()) {
      return Verdict.CURRENT_NEGATIVE;
    }
    // both are told of every sample, whatever the other finds
    boolean voltsFrozen = voltsFreeze.frozen(timeNanos, busVolts, busAmps, throttle);
    boolean ampsFrozen = ampsFreeze.frozen(timeNanos, busAmps, busVolts, throttle);
    return voltsFrozen || ampsFrozen ? Verdict.FROZEN : Verdict.ACCEPTED;
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
   * Samples with a verdict so far.
   *
   * @param verdict which, not null
   * @return count
   */
  public long count(Verdict verdict) {
    return counts[verdict.ordinal()];
  }

  /**
   * Samples judged so far.
   *
   * @return count
   */
  public long samples() {
    return samples;
  }

  /**
   * Gaps: intervals above half a second and five times the usual one.
   *
   * @return count
   */
  public long gaps() {
    return gaps;
  }

  /**
   * Whether these samples cannot come from this array.
   *
   * @return true for good once voltages above any light's were more than a glitch
   */
  public boolean wrongArray() {
    return wrongArray;
  }

  /**
   * The limits in force.
   *
   * @return never null
   */
  public GateLimits limits() {
    return limits;
  }

  private static boolean finite(double value) {
    return Math.abs(value) <= Double.MAX_VALUE;
  }
}
