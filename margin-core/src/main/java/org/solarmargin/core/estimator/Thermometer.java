package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.THERMOMETER_OFFSET;

import org.solarmargin.core.state.StateBytes;

/**
 * Whether a thermometer on the cells may be believed. It reads some kelvins off, which is a state;
 * one that stands much further from what the bus and the thermal model say is left out until it has
 * agreed for a while.
 */
final class Thermometer {

  /**
   * Offset of a sensor fixed to the back of a cell, K, 1 sigma. The cell itself is 2 to 3 K warmer
   * than the back of a flat module in full sun (King, Boyson and Kratochvil, SAND2004-3535, 2004;
   * from memory), and how well the sensor touches adds as much: common practice, no source.
   */
  static final double OFFSET_SD = 3;

  /** What else a reading errs by, K squared, and for how long such an error stays, s. */
  private static final double NOISE = 1;

  private static final double NOISE_SECONDS = 2;

  /** Squared mean innovation over its variance from which a reading disagrees. */
  private static final double DISAGREES = 9;

  /** The same up to which it agrees once more, and for how long it must, s. */
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

  /** Variance of a reading so spread that an error that stays counts once. */
  static double noise(double seconds) {
    return NOISE * Math.max(NOISE_SECONDS / Math.max(seconds, 1e-3), 1);
  }

  /**
   * Takes a reading.
   *
   * @param seconds since the last
   * @param innovation reading less what is expected of it, K
   * @param expected variance of that expectation, K squared
   * @return whether to use it
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
    return !leftOut;
  }

  /** Whether there is a reading that is not believed. */
  boolean leftOut() {
    return leftOut;
  }

  /** What a reading is expected to be, degrees Celsius. */
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
