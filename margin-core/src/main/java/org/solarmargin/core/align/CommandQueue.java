package org.solarmargin.core.align;

import org.solarmargin.core.timing.TimeModel;

/**
 * Throttle commands on their way to the motors: delayed, lagged, and taken out in the order in
 * which they act.
 *
 * <p>Holds {@value #CAPACITY} commands. A command less than {@value #SPACING_NANOS} ns behind one
 * that waits replaces it, so that a delay of half a second fits at any rate.
 */
final class CommandQueue {

  private static final int CAPACITY = 52;
  private static final long SPACING_NANOS = 10_000_000L;

  /** What rounding may have done to delays and time stamps. */
  private static final long TOLERANCE_NANOS = 400_000L;

  private static final double NANOS = 1e-9;

  private final long[] times = new long[CAPACITY];
  private final double[] values = new double[CAPACITY];
  private int first;
  private int size;

  private long delayNanos;
  private double motorLagSeconds;

  private boolean started;
  private long lastNanos;
  private double acting;
  private double queued = Double.NaN;

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

  /** Takes a command given at an instant not before the last one's. */
  void put(long nanos, double throttle) {
    if (!started) {
      started = true;
      acting = throttle;
    } else {
      double seconds = Math.max((nanos - lastNanos) * NANOS, 0);
      acting = lagged(acting, throttle, share(seconds, motorLagSeconds));
    }
    lastNanos = nanos;
    // a command that changes nothing is none: between two of them the state moves in one step
    if (acting != queued) {
      queued = acting;
      append(nanos + delayNanos, acting);
    }
  }

  private void append(long actsAt, double value) {
    if (size > 0) {
      int newest = (first + size - 1) % CAPACITY;
      boolean crowded = size > 1 && actsAt - times[newest] < SPACING_NANOS;
      if (crowded || actsAt <= times[newest]) {
        values[newest] = value;
        return;
      }
    }
    if (size == CAPACITY) {
      drop();
    }
    int place = (first + size) % CAPACITY;
    times[place] = actsAt;
    values[place] = value;
    size++;
  }

  /** Share of the way to the new value that a first-order lag goes in a step, implicit Euler. */
  static double share(double seconds, double lagSeconds) {
    return lagSeconds <= 0 ? 1 : seconds / (lagSeconds + seconds);
  }

  /** A step of a first-order lag; without a lag the new value, to the bit. */
  static double lagged(double value, double target, double share) {
    return share == 1 ? target : value + share * (target - value);
  }

  /** Whether a command waits that acts at this instant or before. */
  boolean due(long nanos) {
    return size > 0 && times[first] <= nanos + TOLERANCE_NANOS;
  }

  /** When the oldest waiting command acts, ns. */
  long time() {
    return times[first];
  }

  /** The oldest waiting command, 0 to 1. */
  double value() {
    return values[first];
  }

  /** Takes the oldest waiting command out. */
  void drop() {
    first = (first + 1) % CAPACITY;
    size--;
  }
}
