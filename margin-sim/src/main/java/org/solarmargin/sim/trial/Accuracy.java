package org.solarmargin.sim.trial;

import java.util.List;

/**
 * The accuracy of the estimate in one flight, evaluated from 8 s after take-off until a loss.
 * Errors are relative to the true available power.
 *
 * @param samples number of samples evaluated
 * @param squaredError sum of squared errors
 * @param errorSum sum of errors
 * @param errorCounts numbers of samples by the size of their error, in classes of {@link
 *     #ERROR_STEP}; the last one contains all larger errors
 * @param innovationSum sum of normalised innovations
 * @param optimistic number of samples more than 5 % optimistic
 * @param covered number of samples whose lower bound held
 * @param byLoad coverage of the bound, by the classes of {@link #LOADS}
 * @param near squared errors of samples with less than 30 % margin
 * @param ceiling squared errors of the ceiling in samples with a true ceiling below 1
 * @param meanGap mean relative distance of the lower bound below the estimate, at 60 % load or
 *     more; NaN without such samples
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

  /** Upper limits of the load classes, as a share of the available power. */
  public static final List<Double> LOADS = List.of(0.5, 0.7, 0.85, Double.POSITIVE_INFINITY);

  /** Width of a class of errors, relative. */
  public static final double ERROR_STEP = 0.001;

  /** Number of error classes. */
  public static final int ERROR_CLASSES = 300;

  /**
   * Coverage of the lower bound.
   *
   * @param samples number of samples evaluated
   * @param covered number of these whose lower bound held
   */
  public record Bound(long samples, long covered) {}

  /**
   * A sum of squared errors.
   *
   * @param samples number of samples
   * @param squaredError sum of their squared errors
   */
  public record Squares(long samples, double squaredError) {}

  /** Copies the lists. */
  public Accuracy {
    errorCounts = List.copyOf(errorCounts);
    byLoad = List.copyOf(byLoad);
  }
}
