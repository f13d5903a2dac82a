package org.solarmargin.core.estimator;

/**
 * A part of a flight recorded for the search for the time model: commands and fresh readings,
 * downsampled to a minimum spacing. Each row takes 20 bytes.
 */
final class FlightRecording {

  /** Smallest difference of two readings that counts, V or A: above single-precision rounding. */
  private static final double SMALLEST_STEP = 2e-5;

  /**
   * A throttle near its upper limit means flight past the knee or a test, and neither provides
   * information on the logger.
   */
  private static final double HIGHEST_THROTTLE = 0.95;

  private static final double USUAL_SHARE = 0.01;
  private static final double COLLAPSED_SHARE = 0.75;
  private static final long COLLAPSED_NANOS = 500_000_000L;
  private static final long MEDIAN_NANOS = 10_000;
  private static final long SAME_NANOS = 2_000_000;

  private final long[] nanos;
  private final float[] throttle;
  private final float[] volts;
  private final float[] amps;
  private final long spacingNanos;
  private int size;
  private double voltsStep;
  private double ampsStep;
  private double lastVolts;
  private double lastAmps;
  private double usualVolts;
  private boolean low;
  private long lowSince;
  private boolean collapsed;

  FlightRecording(int capacity, long spacingNanos) {
    nanos = new long[capacity];
    throttle = new float[capacity];
    volts = new float[capacity];
    amps = new float[capacity];
    this.spacingNanos = spacingNanos;
    clear();
  }

  void clear() {
    size = 0;
    voltsStep = Double.POSITIVE_INFINITY;
    ampsStep = Double.POSITIVE_INFINITY;
    lastVolts = Double.NaN;
    lastAmps = Double.NaN;
    usualVolts = Double.NaN;
    low = false;
    lowSince = Long.MAX_VALUE;
    collapsed = false;
  }

  /** Adds a row; readings that are not fresh are NaN. A full recording ignores it. */
  void add(long atNanos, double newThrottle, double newVolts, double newAmps) {
    follow(atNanos, newVolts);
    if (collapsed || low || newThrottle > HIGHEST_THROTTLE) {
      return;
    }
    boolean near = size > 0 && atNanos - nanos[size - 1] < spacingNanos;
    boolean completes =
        near && bare(size - 1) && !(Double.isNaN(newVolts) && Double.isNaN(newAmps));
    if (completes && atNanos - nanos[size - 1] < SAME_NANOS) {
      complete(newVolts, newAmps);
      return;
    }
    if (full() || (near && !completes)) {
      return;
    }
    nanos[size] = atNanos;
    throttle[size] = (float) newThrottle;
    volts[size] = (float) newVolts;
    amps[size] = (float) newAmps;
    size++;
    followSteps(newVolts, newAmps);
  }

  /** Whether a row has only a command. */
  private boolean bare(int row) {
    return Float.isNaN(volts[row]) && Float.isNaN(amps[row]);
  }

  /** Merges readings into the row of a command of the same instant. */
  private void complete(double newVolts, double newAmps) {
    volts[size - 1] = (float) newVolts;
    amps[size - 1] = (float) newAmps;
    followSteps(newVolts, newAmps);
  }

  private void followSteps(double newVolts, double newAmps) {
    voltsStep = smaller(voltsStep, newVolts - lastVolts);
    ampsStep = smaller(ampsStep, newAmps - lastAmps);
    lastVolts = Double.isNaN(newVolts) ? lastVolts : newVolts;
    lastAmps = Double.isNaN(newAmps) ? lastAmps : newAmps;
  }

  private static double smaller(double step, double difference) {
    double size = Math.abs(difference);
    return size > SMALLEST_STEP && size < step ? size : step;
  }

  /**
   * A bus voltage that stays far below its usual value is past the knee, and the rows that follow
   * do not describe normal flight. A spin-up passes that region within a moment.
   */
  private void follow(long atNanos, double newVolts) {
    if (Double.isNaN(newVolts)) {
      return;
    }
    usualVolts += USUAL_SHARE * (newVolts - usualVolts);
    usualVolts = usualVolts > 0 ? usualVolts : newVolts;
    low = newVolts < COLLAPSED_SHARE * usualVolts;
    lowSince = low ? lowSince : atNanos;
    collapsed |= atNanos - lowSince > COLLAPSED_NANOS;
  }

  boolean full() {
    return size == nanos.length;
  }

  int size() {
    return size;
  }

  long nanos(int row) {
    return nanos[row];
  }

  double throttle(int row) {
    return throttle[row];
  }

  double volts(int row) {
    return volts[row];
  }

  double amps(int row) {
    return amps[row];
  }

  /** Smallest difference of consecutive readings, V: the rounding step, or less. */
  double voltsStep() {
    return Double.isInfinite(voltsStep) ? 0 : voltsStep;
  }

  /** Smallest difference of consecutive readings, A: the rounding step, or less. */
  double ampsStep() {
    return Double.isInfinite(ampsStep) ? 0 : ampsStep;
  }

  /** Median interval between rows, s; 0 if there are fewer than two. */
  double intervalSeconds() {
    long shortest = Long.MAX_VALUE;
    for (int i = 1; i < size; i++) {
      shortest = Math.min(shortest, nanos[i] - nanos[i - 1]);
    }
    long low = shortest;
    long high = size < 2 ? 0 : nanos[size - 1] - nanos[0];
    while (high - low > MEDIAN_NANOS) {
      long middle = low + (high - low) / 2;
      int below = 0;
      for (int i = 1; i < size; i++) {
        below += nanos[i] - nanos[i - 1] <= middle ? 1 : 0;
      }
      if (2 * below >= size - 1) {
        high = middle;
      } else {
        low = middle;
      }
    }
    return high * 1e-9;
  }

  /** Mean interval between rows with two fresh readings, s; 0 if there are fewer than two. */
  double freshSeconds() {
    int fresh = 0;
    for (int i = 0; i < size; i++) {
      fresh += Float.isNaN(volts[i]) || Float.isNaN(amps[i]) ? 0 : 1;
    }
    return fresh < 2 ? 0 : (nanos[size - 1] - nanos[0]) * 1e-9 / fresh;
  }
}
