package org.solarmargin.core.timing;

/**
 * The timing of one sensor's reading relative to the true value: a first-order low-pass filter,
 * followed by a delay, sample-and-hold, and rounding.
 *
 * <p>A filter of another shape (two filters in series, a moving average) is approximated well
 * enough by a filter and a delay with the same mean lag. The constructor throws {@link
 * IllegalArgumentException}, with the rule and the value, if a value is out of range or NaN.
 *
 * @param filterSeconds time constant of the low-pass filter, s, 0 (none) to 3
 * @param delaySeconds pure delay of the reading, s, 0 to 0.5
 * @param periodSeconds interval between fresh readings, s, 0 (every sample is fresh, or unknown) to
 *     2
 * @param roundingStep step to which the filtered reading is rounded, V or A, 0 (none) to 10
 */
public record ChannelTiming(
    double filterSeconds, double delaySeconds, double periodSeconds, double roundingStep) {

  /** Longest filter time constant, s. */
  public static final double LONGEST_FILTER_SECONDS = 3;

  /** Longest delay, s. */
  public static final double LONGEST_DELAY_SECONDS = 0.5;

  /**
   * Longest interval between fresh readings, s: the slowest log is 2 Hz, and samples may be lost.
   */
  public static final double LONGEST_PERIOD_SECONDS = 2;

  /** Coarsest rounding, V or A. */
  public static final double COARSEST_STEP = 10;

  /** A reading of the present instant, not rounded. */
  public static final ChannelTiming IMMEDIATE = new ChannelTiming(0, 0, 0, 0);

  public ChannelTiming {
    check("filterSeconds", filterSeconds, LONGEST_FILTER_SECONDS);
    check("delaySeconds", delaySeconds, LONGEST_DELAY_SECONDS);
    check("periodSeconds", periodSeconds, LONGEST_PERIOD_SECONDS);
    check("roundingStep", roundingStep, COARSEST_STEP);
  }

  /** The same timing with a filter that is shorter by {@code seconds}. */
  ChannelTiming shortened(double seconds) {
    return new ChannelTiming(filterSeconds - seconds, delaySeconds, periodSeconds, roundingStep);
  }

  private static void check(String name, double value, double high) {
    if (!(value >= 0 && value <= high)) {
      throw new IllegalArgumentException(name + " must be in [0, " + high + "]: " + value);
    }
  }
}
