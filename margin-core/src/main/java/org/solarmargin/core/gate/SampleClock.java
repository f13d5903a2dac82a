package org.solarmargin.core.gate;

import org.solarmargin.core.verdict.Verdict;

/**
 * Converts the time stamps of samples into a time that always increases.
 *
 * <p>A stamp that is out of order, or more than {@value #LONGEST_STEP_NANOS} ns ahead, is refused
 * until the following ones confirm it: the {@value #AGREEING}rd in a row, each later than the one
 * before, is accepted. A clock that went back is then taken as restarted, and time continues from
 * where it was; one that went ahead has left a gap. Once more than {@value #PATIENCE} samples in a
 * row have been refused, each counts as one usual interval, so that the last reading ages although
 * the stamps do not advance. If the next stamp shows that the clock did not stand still, but was
 * only read rarely or rounded, these intervals are taken back.
 */
public final class SampleClock {

  private static final long LONGEST_STEP_NANOS = 10_000_000_000L;
  private static final int AGREEING = 3;
  private static final int PATIENCE = 16;
  private static final int USUAL_SHARE = 16;

  private boolean started;
  private long shift;
  private long now;
  private long usual;
  private long candidate;
  private int agreeing;
  private int refused;
  private long accepted;
  private int repeats;
  private long added;

  /** Creates a clock that has received no stamp. */
  public SampleClock() {}

  /** Returns to the state after construction. */
  public void reset() {
    started = false;
    shift = 0;
    now = 0;
    usual = 0;
    candidate = 0;
    agreeing = 0;
    refused = 0;
    accepted = 0;
    repeats = 0;
    added = 0;
  }

  /**
   * Judges the time stamp of a sample.
   *
   * @param stamp ns since any origin, any value
   * @return {@link Verdict#ACCEPTED}, or why it is refused
   */
  public Verdict judge(long stamp) {
    return judge(stamp, true);
  }

  /**
   * Judges the time stamp of a reading whose commands arrive separately. Intervals added while it
   * stood still are kept, because commands have been given at the later times.
   *
   * @param stamp ns since any origin, any value
   * @return {@link Verdict#ACCEPTED}, or why it is refused
   */
  public Verdict judgeReading(long stamp) {
    return judge(stamp, false);
  }

  private Verdict judge(long stamp, boolean takesBack) {
    long time = stamp + shift;
    long step = time - now;
    if (!started || (step > 0 && step <= LONGEST_STEP_NANOS)) {
      accept(takesBack ? takeBack(stamp, step) : time);
      return Verdict.ACCEPTED;
    }
    long since = stamp - candidate;
    agreeing = since > 0 && since <= LONGEST_STEP_NANOS ? agreeing + 1 : 1;
    candidate = stamp;
    if (agreeing >= AGREEING) {
      if (step <= 0) {
        shift = now + Math.max(usual, 1) - stamp;
      }
      accept(step > 0 && takesBack ? takeBack(stamp, step) : stamp + shift);
      return Verdict.ACCEPTED;
    }
    refused++;
    if (refused > PATIENCE) {
      // the next accepted sample is later than this
      long passed = refused == PATIENCE + 1 ? refused * usual : usual;
      now += passed;
      shift += step > 0 ? 0 : passed;
      added += step == 0 ? passed : 0;
    }
    if (step == 0) {
      repeats++;
      return Verdict.TIME_REPEATED;
    }
    return step > 0 ? Verdict.TIME_AHEAD : Verdict.TIME_BACKWARD;
  }

  /** Takes back the intervals that were added for repeated stamps if this one has them too. */
  private long takeBack(long stamp, long step) {
    shift -= Math.max(0, Math.min(added, step - usual));
    return stamp + shift;
  }

  private void accept(long time) {
    if (started) {
      long interval = repeats == 0 ? time - now : (time - accepted) / (repeats + 1);
      long step = Math.min(interval, LONGEST_STEP_NANOS);
      usual = usual == 0 ? step : usual + (step - usual) / USUAL_SHARE;
    }
    started = true;
    now = time;
    accepted = time;
    agreeing = 0;
    refused = 0;
    repeats = 0;
    added = 0;
  }

  /**
   * The present time.
   *
   * @return ns; of the last sample accepted, or later while samples are refused
   */
  public long nanos() {
    return now;
  }

  /**
   * The offset that is added to a stamp.
   *
   * @return ns; 0 until the clock of the stamps has restarted
   */
  public long shiftNanos() {
    return shift;
  }

  /**
   * Whether so many samples in a row were refused that time advances by usual intervals.
   *
   * @return true until a sample is accepted
   */
  public boolean standsStill() {
    return refused > PATIENCE;
  }
}
