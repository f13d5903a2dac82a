package org.solarmargin.core.align;

import org.solarmargin.core.timing.ChannelTiming;

/**
 * A queue of one sensor's readings, each dated back by the sensor's delay.
 *
 * <p>Its capacity suffices for the longest delay at any rate: while readings wait, at most two of
 * them are kept in any {@value #SPACING_NANOS} ns, of which the newer is replaced by the next.
 */
final class Channel {

  private static final int SPARE = 3;
  private static final long SPACING_NANOS = 20_000_000L;
  private static final double NANOS = 1e-9;

  private final int capacity;
  private final long[] times;
  private final double[] values;
  private int first;
  private int size;

  private double filterSeconds;
  private long delayNanos;
  private double roundingVariance;

  /**
   * Creates an empty queue.
   *
   * @param longestSeconds the longest time that a reading waits, s
   */
  Channel(double longestSeconds) {
    capacity = SPARE + 2 * (int) Math.ceil(longestSeconds / NANOS / SPACING_NANOS);
    times = new long[capacity];
    values = new double[capacity];
  }

  void configure(ChannelTiming timing) {
    filterSeconds = timing.filterSeconds();
    delayNanos = Math.round(timing.delaySeconds() / NANOS);
    roundingVariance = timing.roundingStep() * timing.roundingStep() / 12;
  }

  void reset() {
    first = 0;
    size = 0;
  }

  /** Adds a fresh reading, later than the last one. */
  void put(long nanos, double reading) {
    long instant = nanos - delayNanos;
    if (size > 0) {
      int newest = (first + size - 1) % capacity;
      boolean crowded =
          size > 1 && instant - times[(newest + capacity - 1) % capacity] < SPACING_NANOS;
      if (crowded || instant <= times[newest]) {
        times[newest] = Math.max(instant, times[newest]);
        values[newest] = reading;
        return;
      }
    }
    if (size == capacity) {
      drop();
    }
    int place = (first + size) % capacity;
    times[place] = instant;
    values[place] = reading;
    size++;
  }

  boolean empty() {
    return size == 0;
  }

  /** Instant of the oldest waiting reading, ns; Long.MAX_VALUE if the queue is empty. */
  long time() {
    return size == 0 ? Long.MAX_VALUE : times[first];
  }

  /** The oldest waiting reading. */
  double value() {
    return values[first];
  }

  /** Removes the oldest waiting reading. */
  void drop() {
    first = (first + 1) % capacity;
    size--;
  }

  /** Removes the readings of this instant and before. */
  void dropUntil(long nanos) {
    while (size > 0 && times[first] <= nanos) {
      drop();
    }
  }

  long delayNanos() {
    return delayNanos;
  }

  /**
   * Weight of the new value in the filter's output, c = h / (tau + h) for a step h: the implicit
   * Euler form of {@code tau dy/dt + y = x}, whose mean lag is tau for any step.
   */
  double fresh(double seconds) {
    return CommandQueue.share(seconds, filterSeconds);
  }

  /** Variance of the rounding error, which is uniformly distributed. */
  double roundingVariance() {
    return roundingVariance;
  }
}
