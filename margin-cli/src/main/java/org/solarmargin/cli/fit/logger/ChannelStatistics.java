package org.solarmargin.cli.fit.logger;

import java.util.Arrays;

/**
 * Statistics of the readings of one channel.
 *
 * @param periodSeconds usual interval of fresh readings, s; NaN if there are too few. Readings that
 *     are equal by chance or lost leave longer intervals, so that those which differ from the
 *     median by more than half of it are not averaged.
 * @param periodSd its standard error, s
 * @param roundingStep step of which nearly all differences are multiples; 0 if there is none
 * @param noise standard deviation from reading to reading. It includes the motion of the craft and
 *     is therefore an upper bound of the sensor's noise. NaN if there are too few readings.
 * @param noiseSd its standard error
 */
record ChannelStatistics(
    double periodSeconds, double periodSd, double roundingStep, double noise, double noiseSd) {

  /**
   * Fewest readings; this and the two tolerances of the rounding step are engineering judgement.
   */
  private static final int LEAST_READINGS = 50;

  private static final double NANOS = 1e-9;
  private static final double ON_GRID_SHARE = 0.98;
  private static final double GRID_TOLERANCE = 0.02;

  /**
   * A relative step finer than this comes from the number format of the file, not from the logger:
   * engineering judgement.
   */
  private static final double FINEST_SHARE = 2e-5;

  /** Ratio of the standard deviation to the median absolute deviation of a normal distribution. */
  private static final double NORMAL_MAD = 1.4826;

  /** The second difference of white noise has six times its variance. */
  private static final double SECOND_DIFFERENCE = Math.sqrt(6);

  static ChannelStatistics of(long[] nanos, double[] values, int size) {
    double[] fresh = new double[size];
    double[] steps = new double[size];
    int count = 0;
    long last = 0;
    for (int i = 0; i < size; i++) {
      if (!Double.isNaN(values[i])) {
        fresh[count] = values[i];
        steps[count] = (nanos[i] - last) * NANOS;
        last = nanos[i];
        count++;
      }
    }
    if (count < LEAST_READINGS) {
      return new ChannelStatistics(Double.NaN, Double.NaN, 0, Double.NaN, Double.NaN);
    }
    double[] intervals = Arrays.copyOfRange(steps, 1, count);
    double[] differences = new double[count - 1];
    double[] second = new double[count - 2];
    for (int i = 1; i < count; i++) {
      differences[i - 1] = Math.abs(fresh[i] - fresh[i - 1]);
    }
    for (int i = 2; i < count; i++) {
      second[i - 2] = Math.abs(fresh[i] - 2 * fresh[i - 1] + fresh[i - 2]);
    }
    double median = median(intervals);
    double[] usual =
        Arrays.stream(intervals).filter(s -> Math.abs(s - median) <= 0.5 * median).toArray();
    double period = Arrays.stream(usual).sum() / usual.length;
    double spread = Arrays.stream(usual).map(s -> (s - period) * (s - period)).sum();
    double noise = NORMAL_MAD * median(second) / SECOND_DIFFERENCE;
    return new ChannelStatistics(
        period,
        Math.sqrt(spread) / usual.length,
        rounding(differences, Math.abs(fresh[0])),
        noise,
        noise / Math.sqrt(count / 3.0));
  }

  private static double rounding(double[] differences, double size) {
    double least = Double.POSITIVE_INFINITY;
    for (double d : differences) {
      least = d > FINEST_SHARE * size && d < least ? d : least;
    }
    int on = 0;
    for (double d : differences) {
      on += Math.abs(d / least - Math.rint(d / least)) < GRID_TOLERANCE ? 1 : 0;
    }
    return on >= ON_GRID_SHARE * differences.length ? least : 0;
  }

  private static double median(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted[sorted.length / 2];
  }
}
