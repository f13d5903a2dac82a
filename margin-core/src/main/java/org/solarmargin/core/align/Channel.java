package org.solarmargin.core.align;

import org.solarmargin.core.timing.ChannelTiming;

/**
 * One sensor's readings with their delay taken back, kept for as long as another channel may ask
 * for an earlier instant.
 */
final class Channel {

  private static final int CAPACITY = 24;
  private static final long SPACING_NANOS = 22_000_000L;

  /**
   * Factor on the mean square of the moves from reading to reading: an interpolated value moves
   * less than the true one, so its error is not white, and it must count for little (10 to 30
   * behave alike in {@code MonitorTimingProperties}).
   */
  private static final double BETWEEN = 10;

  /** What rounding may have done to delays and time stamps. */
  private static final long TOLERANCE_NANOS = 400_000L;

  private static final double MOVE_SHARE = 0.05;

  private static final double NANOS = 1e-9;

  private final long[] times = new long[CAPACITY];
  private final double[] values = new double[CAPACITY];
  private int first;
  private int size;

  private double filterSeconds;
  private long delayNanos;
  private double roundingVariance;
  private double squaredMove;
  private double betweenVariance;

  void configure(ChannelTiming timing) {
    filterSeconds = timing.filterSeconds();
    delayNanos = Math.round(timing.delaySeconds() / NANOS);
    roundingVariance = timing.roundingStep() * timing.roundingStep() / 12;
  }

  void reset() {
    first = 0;
    size = 0;
    squaredMove = 0;
  }

  /** Takes a fresh reading, later than the last one. */
  void put(long nanos, double reading) {
    if (size > 0) {
      double move = reading - values[(first + size - 1) % CAPACITY];
      squaredMove += MOVE_SHARE * (move * move - squaredMove);
    }
    append(nanos - delayNanos, reading);
  }

  /**
   * How much of a reading is the new value, c = h / (tau + h) for a step h: the implicit form of
   * {@code tau dy/dt + y = x}, whose mean lag is tau whatever the step.
   */
  double fresh(double seconds) {
    return CommandQueue.share(seconds, filterSeconds);
  }

  /** Variance of what rounding leaves: a uniform error. */
  double readoutVariance() {
    return roundingVariance;
  }

  private void append(long nanos, double value) {
    if (size > 1) {
      int before = (first + size - 2) % CAPACITY;
      // readings closer together than asked for are thinned; the newest one is always kept
      if (nanos - times[before] < SPACING_NANOS) {
        int newest = (first + size - 1) % CAPACITY;
        times[newest] = nanos;
        values[newest] = value;
        return;
      }
    }
    if (size == CAPACITY) {
      first = (first + 1) % CAPACITY;
      size--;
    }
    int place = (first + size) % CAPACITY;
    times[place] = nanos;
    values[place] = value;
    size++;
  }

  boolean empty() {
    return size == 0;
  }

  /** The newest instant that is known, ns. */
  long newest() {
    return times[(first + size - 1) % CAPACITY];
  }

  /**
   * The newest reading's instant that is not after another instant, ns; that one if there is none.
   */
  long lastUntil(long nanos) {
    for (int i = size - 1; i >= 0; i--) {
      long time = times[(first + i) % CAPACITY];
      if (time <= nanos + TOLERANCE_NANOS) {
        return Math.min(time, nanos);
      }
    }
    return nanos;
  }

  /** Value at an instant, by linear interpolation; the nearest where it is out of reach. */
  double at(long nanos) {
    int i = size - 1;
    while (i > 0 && times[(first + i) % CAPACITY] > nanos) {
      i--;
    }
    int here = (first + i) % CAPACITY;
    betweenVariance = 0;
    if (i == size - 1 || times[here] >= nanos) {
      return values[here];
    }
    int next = (here + 1) % CAPACITY;
    double part = (double) (nanos - times[here]) / (times[next] - times[here]);
    double move = values[next] - values[here];
    betweenVariance = BETWEEN * part * (1 - part) * squaredMove;
    return values[here] + part * move;
  }

  /**
   * What interpolation may have missed at the last {@link #at}: the variance of a value that went
   * from one reading to the next in one jump, at an unknown instant between them.
   */
  double betweenVariance() {
    return betweenVariance;
  }
}
