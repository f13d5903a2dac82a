package org.solarmargin.core.timing;

/**
 * How the reading of one sensor follows the true value in time: a first-order low-pass filter, then
 * a delay, then sample-and-hold, then rounding.
 *
 * <p>A filter of another shape (two filters in a row, a moving average) is described well enough by
 * the filter and the delay that share its mean lag. The constructor throws {@link
 * IllegalArgumentException} with rule and value where one is out of range or NaN.
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

  /** Longest interval between fresh readings, s: the slowest log is 2 Hz, some samples are lost. */
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

  /** The same with a shorter filter. */
  ChannelTiming shortened(double seconds) {
    return new ChannelTiming(filterSeconds - seconds, delaySeconds, periodSeconds, roundingStep);
  }

  private static void check(String name, double value, double high) {
    if (!(value >= 0 && value <= high)) {
      throw new IllegalArgumentException(name + " must be in [0, " + high + "]: " + value);
    }
  }
}
