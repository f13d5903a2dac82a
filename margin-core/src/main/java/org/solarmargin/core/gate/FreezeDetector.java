package org.solarmargin.core.gate;

/**
 * Finds a sensor that repeats one exact value while the throttle works and the other sensor moves.
 * Quantised sensors repeat a value now and then; {@value #REPEATS} times in a row, over half a
 * second, with the throttle moving by half a percent, they do not (common practice, no source).
 */
final class FreezeDetector {

  private static final int REPEATS = 8;

  /**
   * Changes in a row until a frozen sensor is believed again: one may be a leap to the next freeze.
   */
  private static final int THAW = 2;

  private static final long SPAN_NANOS = 150_000_000L;
  private static final double THROTTLE_MOVE = 0.005;

  private double value = Double.NaN;
  private double other;
  private boolean otherMoved;
  private int repeats;
  private boolean stuck;
  private int strays;
  private long since;
  private double throttleLow;
  private double throttleHigh;

  void reset() {
    value = Double.NaN;
    repeats = 0;
    stuck = false;
    strays = 0;
  }

  boolean frozen(long timeNanos, double now, double otherNow, double throttle) {
    if (stuck) {
      strays = now == value ? 0 : strays + 1;
      if (strays < THAW) {
        value = now;
        return true;
      }
      stuck = false;
    }
    if (now != value) {
      value = now;
      other = otherNow;
      otherMoved = false;
      repeats = 0;
      since = timeNanos;
      throttleLow = throttle;
      throttleHigh = throttle;
      return false;
    }
    repeats++;
    otherMoved |= otherNow != other;
    throttleLow = Math.min(throttleLow, throttle);
    throttleHigh = Math.max(throttleHigh, throttle);
    stuck =
        repeats >= REPEATS
            && otherMoved
            && timeNanos - since >= SPAN_NANOS
            && throttleHigh - throttleLow >= THROTTLE_MOVE;
    strays = 0;
    return stuck;
  }
}
