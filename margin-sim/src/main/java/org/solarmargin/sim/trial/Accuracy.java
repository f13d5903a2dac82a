package org.solarmargin.sim.trial;

import java.util.List;

/**
 * How the estimate of one flight did, judged from 8 s after take-off until a loss. Errors are
 * relative to the true available power.
 *
 * @param samples judged
 * @param squaredError sum of squared errors
 * @param errorSum sum of errors
 * @param errorCounts samples by the size of their error, in steps of {@link #ERROR_STEP}; the last
 *     holds all that is larger
 * @param innovationSum sum of normalised innovations
 * @param optimistic samples more than 5 % optimistic
 * @param covered samples whose lower bound held
 * @param byLoad how often the bound held, by the classes of {@link #LOADS}
 * @param near samples with less than 30 % margin
 * @param ceiling samples with a true ceiling below 1, errors of the ceiling
 * @param meanGap mean gap of the bound under the estimate, relative, from 60 % load on; NaN without
 */
public record Accuracy(
    long samples,
    double squaredError,
    double errorSum,
    List<Long> errorCounts,
    double innovationSum,
    long optimistic,
    long covered,
    List<Bound> byLoad,
    Squares near,
    Squares ceiling,
    double meanGap) {

  /** Upper ends of the load classes, share of the available power. */
  public static final List<Double> LOADS = List.of(0.5, 0.7, 0.85, Double.POSITIVE_INFINITY);

  /** Width of a class of errors, relative. */
  public static final double ERROR_STEP = 0.001;

  /** Classes of errors. */
  public static final int ERROR_CLASSES = 300;

  /**
   * How often the lower bound held.
   *
   * @param samples judged
   * @param covered of these, lower bound held
   */
  public record Bound(long samples, long covered) {}

  /**
   * Some squared errors.
   *
   * @param samples how many
   * @param squaredError their sum
   */
  public record Squares(long samples, double squaredError) {}

  /** Copies the lists. */
  public Accuracy {
    errorCounts = List.copyOf(errorCounts);
    byLoad = List.copyOf(byLoad);
  }
}
