package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.THERMOMETER_OFFSET;

import org.solarmargin.core.state.StateBytes;

/**
 * Consistency check of a thermometer on the cells. Its offset of some kelvins is a state; readings
 * that deviate much further from the bus readings and the thermal model are not used until they
 * have been consistent for a while. Constants without a source are engineering judgement, not
 * tuned.
 */
final class Thermometer {

  /**
   * Offset of a sensor fixed to the back of a cell, K, 1 sigma. The cell itself is 2 to 3 K warmer
   * than the back of a flat module in full sun (King, Boyson and Kratochvil, SAND2004-3535, 2004;
   * from memory), and poor thermal contact adds as much (common practice, no source).
   */
  static final double OFFSET_SD = 3;

  /** Variance of the other errors of a reading, K squared, which persist for the time below. */
  private static final double NOISE = 1;

  private static final double NOISE_SECONDS = 2;

  /** Squared mean innovation over its variance above which a reading is inconsistent. */
  private static final double DISAGREES = 9;

  /** The same below which it is consistent again, after {@link #AGREES_SECONDS}. */
  private static final double AGREES = 4;

  private static final double AGREES_SECONDS = 10;

  private double mean;
  private double agreed;
  private boolean leftOut;

  Thermometer() {
    reset();
  }

  void reset() {
    mean = Double.NaN;
    agreed = 0;
    leftOut = false;
  }

  /** Variance of a reading, increased at high rates so that a persistent error counts only once. */
  static double noise(double seconds) {
    return NOISE * Math.max(NOISE_SECONDS / Math.max(seconds, 1e-3), 1);
  }

  /**
   * Checks a reading. A single one that is inconsistent is not used, and counts towards the mean,
   * so that a sensor that is wrong in every second reading is left out although their mean follows
   * the estimate.
   *
   * @param seconds time since the last reading, s
   * @param innovation reading minus its prediction, K
   * @param expected variance of the prediction, K squared
   * @return whether to use the reading
   */
  boolean takes(double seconds, double innovation, double expected) {
    double share = Math.min(seconds / NOISE_SECONDS, 1);
    mean = Double.isNaN(mean) ? innovation : mean + share * (innovation - mean);
    double norm = mean * mean / (expected + NOISE);
    if (norm > DISAGREES) {
      leftOut = true;
      agreed = 0;
    } else if (leftOut) {
      agreed = norm < AGREES ? agreed + seconds : 0;
      leftOut = agreed < AGREES_SECONDS;
    }
    return !leftOut && innovation * innovation <= DISAGREES * (expected + NOISE);
  }

  /** Whether readings are present but not used. */
  boolean leftOut() {
    return leftOut;
  }

  /** Prediction of a reading, degrees Celsius. */
  static double expected(double[] x) {
    return x[CELL] + x[THERMOMETER_OFFSET];
  }

  void write(StateBytes out) {
    out.put(mean);
    out.put(agreed);
    out.put(leftOut ? 1 : 0);
  }

  void read(StateBytes in) {
    mean = in.get();
    agreed = in.get();
    leftOut = in.get() != 0;
  }
}
