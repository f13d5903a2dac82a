package org.solarmargin.core.estimator;

import static org.solarmargin.core.estimator.State.AIR;
import static org.solarmargin.core.estimator.State.CELL;
import static org.solarmargin.core.estimator.State.EMF;
import static org.solarmargin.core.estimator.State.ESTIMATED;
import static org.solarmargin.core.estimator.State.GUST;
import static org.solarmargin.core.estimator.State.LIGHT;
import static org.solarmargin.core.estimator.State.PROPULSION;
import static org.solarmargin.core.estimator.State.SIZE;
import static org.solarmargin.core.estimator.State.UNFILTERED;
import static org.solarmargin.core.estimator.State.WINDING;

import org.solarmargin.core.array.SolarArray;

/** Clamps each state to its physically plausible range. */
final class StateBounds {

  private static final double LIGHT_MIN = Math.log(1e-3);
  private static final double LIGHT_MAX = Math.log(2.2);
  private static final double CELL_MIN = -50;
  private static final double CELL_MAX = 130;
  private static final double LOG_REACH = 2.5;
  private static final double AIR_REACH = 60;

  /** Limit of the constants, in stated sigmas. */
  private static final double CONSTANT_REACH = 5;

  private static final double HEALTHY = 1e9;

  private final Prior prior;
  private final double highestEmf;

  StateBounds(Prior prior, SolarArray array) {
    this.prior = prior;
    array.set(Math.exp(LIGHT_MAX), CELL_MIN);
    highestEmf = array.openCircuitVolts();
  }

  void apply(double[] x) {
    x[LIGHT] = clamp(x[LIGHT], LIGHT_MIN, LIGHT_MAX);
    x[CELL] = clamp(x[CELL], CELL_MIN, CELL_MAX);
    x[EMF] = clamp(x[EMF], 0, highestEmf);
    x[GUST] = clamp(x[GUST], -1, 1);
    x[PROPULSION] =
        clamp(x[PROPULSION], prior.logPropulsion() - LOG_REACH, prior.logPropulsion() + LOG_REACH);
    x[WINDING] = clamp(x[WINDING], prior.logWinding() - LOG_REACH, prior.logWinding() + LOG_REACH);
    x[AIR] = clamp(x[AIR], -AIR_REACH, AIR_REACH);
  }

  void applyToConstants(double[] x) {
    for (int j = ESTIMATED; j < UNFILTERED; j++) {
      double reach = CONSTANT_REACH * prior.constantSd(j);
      x[j] = clamp(x[j], -reach, reach);
    }
  }

  /** Whether the state is finite and its variances are finite and not negative. */
  static boolean healthy(double[] x, Covariance p) {
    boolean healthy = true;
    for (int j = 0; j < SIZE; j++) {
      healthy &= Math.abs(x[j]) < HEALTHY && p.get(j, j) >= 0 && p.get(j, j) < HEALTHY;
    }
    return healthy;
  }

  /** 0 up to {@code from}, 1 from {@code to} on, linear in between. */
  static double ramp(double value, double from, double to) {
    return clamp((value - from) / (to - from), 0, 1);
  }

  /** The nearest value within the limits; NaN stays NaN. Comparisons cost less than min and max. */
  static double clamp(double value, double low, double high) {
    if (value < low) {
      return low;
    }
    return value > high ? high : value;
  }
}
