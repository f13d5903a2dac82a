package org.solarmargin.sim.trial;

import java.util.List;

/**
 * What came of one simulated flight. The estimate is judged from 8 s after take-off until a loss.
 *
 * @param scenario its place in the list of scenarios
 * @param flight its number, from 0
 * @param limiter whether the throttle was held under the ceiling
 * @param seconds length
 * @param lossSeconds onset of the loss; NaN if none
 * @param warnedSeconds how long before the loss a standing WARNING was raised; NaN if none stood
 * @param nuisances WARNINGs raised with 15 % margin kept for 10 s after
 * @param warnings WARNINGs raised
 * @param samples judged
 * @param squaredError sum of squared relative errors of the available power
 * @param errorSum sum of relative errors
 * @param errorCounts samples by the size of their relative error, in steps of {@link #ERROR_STEP};
 *     the last holds all that is larger
 * @param innovationSum sum of normalised innovations
 * @param optimistic samples more than 5 % optimistic
 * @param covered samples whose lower bound held
 * @param loadSamples judged samples by load: under 50 %, 70 %, 85 %, above
 * @param loadCovered of these, lower bound held
 * @param nearSamples samples with less than 30 % margin
 * @param nearSquaredError sum of their squared relative errors
 * @param meanGap sum of the relative gap of the bound
 * @param ceilingSamples with a true ceiling below 1
 * @param ceilingSquaredError sum of squared relative errors of the ceiling
 * @param kneeByModelOnly samples past the knee seen by the model alone
 * @param kneeByWitnessOnly seen by throttle-up-power-down alone
 * @param kneeByBoth seen by both
 * @param heightLost most that the craft sank under a height it had held, m
 * @param voltage what fixed voltage alarms would have told
 */
public record Outcome(
    int scenario,
    int flight,
    boolean limiter,
    double seconds,
    double lossSeconds,
    double warnedSeconds,
    int nuisances,
    int warnings,
    long samples,
    double squaredError,
    double errorSum,
    List<Long> errorCounts,
    double innovationSum,
    long optimistic,
    long covered,
    List<Long> loadSamples,
    List<Long> loadCovered,
    long nearSamples,
    double nearSquaredError,
    double meanGap,
    long ceilingSamples,
    double ceilingSquaredError,
    long kneeByModelOnly,
    long kneeByWitnessOnly,
    long kneeByBoth,
    double heightLost,
    Voltage voltage) {

  /**
   * What alarms at fixed voltages would have told, by rising threshold.
   *
   * @param leads how long each had stood before the loss, s; NaN if it did not stand, or without a
   *     loss
   * @param nuisances of each, by the yardstick of the WARNINGs
   */
  public record Voltage(List<Double> leads, List<Integer> nuisances) {

    /** Copies the lists. */
    public Voltage {
      leads = List.copyOf(leads);
      nuisances = List.copyOf(nuisances);
    }
  }

  /** Upper ends of the load classes, share of the available power. */
  public static final List<Double> LOADS = List.of(0.5, 0.7, 0.85, Double.POSITIVE_INFINITY);

  /** Width of a class of errors, relative. */
  public static final double ERROR_STEP = 0.001;

  /** Classes of errors. */
  public static final int ERROR_CLASSES = 300;

  /** Copies the lists. */
  public Outcome {
    errorCounts = List.copyOf(errorCounts);
    loadSamples = List.copyOf(loadSamples);
    loadCovered = List.copyOf(loadCovered);
  }

  /**
   * Whether the craft was lost.
   *
   * @return true if it stayed past the knee
   */
  public boolean lost() {
    return !Double.isNaN(lossSeconds);
  }

  /**
   * Whether it was lost with no standing WARNING.
   *
   * @return true if so
   */
  public boolean missed() {
    return lost() && Double.isNaN(warnedSeconds);
  }
}
