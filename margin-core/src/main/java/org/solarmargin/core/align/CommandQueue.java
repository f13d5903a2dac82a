package org.solarmargin.core.align;

import org.solarmargin.core.timing.TimeModel;

/**
 * A queue of throttle commands, delayed and lagged as on their way to the motors, and removed in
 * the order in which they take effect.
 *
 * <p>A command that is less than {@value #SPACING_NANOS} ns later than a waiting one replaces it,
 * so that the longest time that a command waits fits at any rate.
 */
final class CommandQueue {

  private static final int SPARE = 2;
  private static final long SPACING_NANOS = 10_000_000L;

  /** The greatest rounding error of delays and time stamps, ns. */
  private static final long TOLERANCE_NANOS = 400_000L;

  private static final double NANOS = 1e-9;

  private final int capacity;
  private final long[] times;
  private final double[] values;
  private int first;
  private int size;

  private long delayNanos;
  private double motorLagSeconds;

  private boolean started;
  private long lastNanos;
  private double acting;
  private double queued = Double.NaN;

  /**
   * Creates an empty queue.
   *
   * @param longestSeconds the longest time that a command waits, s
   */
  CommandQueue(double longestSeconds) {
    capacity = SPARE + (int) Math.ceil(longestSeconds / NANOS / SPACING_NANOS);
    times = new long[capacity];
    values = new double[capacity];
  }

  void configure(TimeModel model) {
    delayNanos = Math.round(model.commandDelaySeconds() / NANOS);
    motorLagSeconds = model.commandLagSeconds();
  }

  void reset() {
    first = 0;
    size = 0;
    started = false;
    queued = Double.NaN;
  }

  /** Adds a command that was given at an instant not before the last one's. */
  void put(long nanos, double throttle) {
    if (!started) {
      started = true;
      acting = throttle;
    } else {
      double seconds = Math.max((nanos - lastNanos) * NANOS, 0);
      acting = lagged(acting, throttle, share(seconds, motorLagSeconds));
    }
    lastNanos = nanos;
    // a command that changes nothing is skipped: the state moves in one step between two commands
    if (acting != queued) {
      queued = acting;
      append(nanos + delayNanos, acting);
    }
  }

  private void append(long actsAt, double value) {
    if (size > 0) {
      int newest = (first + size - 1) % capacity;
      boolean crowded = size > 1 && actsAt - times[newest] < SPACING_NANOS;
      if (crowded || actsAt <= times[newest]) {
        values[newest] = value;
        return;
      }
    }
    if (size == capacity) {
      drop();
    }
    int place = (first + size) % capacity;
    times[place] = actsAt;
    values[place] = value;
    size++;
  }

  /** Weight of the new value in one step of a first-order lag, implicit Euler. */
  static double share(double seconds, double lagSeconds) {
    return lagSeconds <= 0 ? 1 : seconds / (lagSeconds + seconds);
  }

  /** One step of a first-order lag; without a lag it returns the new value exactly. */
  static double lagged(double value, double target, double share) {
    return share == 1 ? target : value + share * (target - value);
  }

  /** Whether a waiting command takes effect at this instant or before. */
  boolean due(long nanos) {
    return size > 0 && times[first] <= nanos + TOLERANCE_NANOS;
  }

  /** When the oldest waiting command takes effect, ns. */
  long time() {
    return times[first];
  }

  /** The oldest waiting command, 0 to 1. */
  double value() {
    return values[first];
  }

  /** Removes the oldest waiting command. */
  void drop() {
    first = (first + 1) % capacity;
    size--;
  }
}
