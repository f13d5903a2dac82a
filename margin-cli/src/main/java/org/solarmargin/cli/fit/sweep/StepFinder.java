package org.solarmargin.cli.fit.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Finds steps in a sweep: places where the current falls below the concave hull of the points by
 * more than the noise. The curve of a uniform array is concave; that of an array with a weak cell
 * or a conducting bypass diode is not.
 */
final class StepFinder {

  /**
   * Depth below the concave hull, relative to the largest current, from which a dip is a step: well
   * above the noise. Engineering judgement.
   */
  private static final double STEP_SHARE = 0.012;

  private static final double STEP_SIGMAS = 8;

  private final Sweep sweep;
  private final int[] order;
  private final double[] smooth;

  StepFinder(Sweep sweep) {
    this.sweep = sweep;
    this.order = sweep.byVoltage();
    this.smooth = medianOfThree();
  }

  /** Currents by increasing voltage, with single outliers removed. */
  private double[] medianOfThree() {
    double[] amps = new double[order.length];
    for (int k = 0; k < amps.length; k++) {
      double here = sweep.amps(order[k]);
      double before = sweep.amps(order[Math.max(k - 1, 0)]);
      double after = sweep.amps(order[Math.min(k + 1, amps.length - 1)]);
      amps[k] = Math.max(Math.min(here, before), Math.min(Math.max(here, before), after));
    }
    return amps;
  }

  /**
   * Voltage of each step, V; empty if the curve has a single knee.
   *
   * @param slack dips up to this share of the largest current do not count as steps
   */
  List<Double> volts(double slack) {
    List<Double> found = new ArrayList<>();
    double[] hull = hull();
    double limit = Math.max((STEP_SHARE + slack) * sweep.mostAmps(), STEP_SIGMAS * pointNoise());
    int worst = -1;
    for (int k = 0; k < order.length; k++) {
      double dip = hull[k] - smooth[k];
      if (dip > limit && (worst < 0 || dip > hull[worst] - smooth[worst])) {
        worst = k;
      }
      if (worst >= 0 && (dip < limit / 2 || k == order.length - 1)) {
        found.add(sweep.volts(order[worst]));
        worst = -1;
      }
    }
    return found;
  }

  /** The concave hull at the points, by increasing voltage. */
  private double[] hull() {
    int n = order.length;
    int[] stack = new int[n];
    int top = 0;
    for (int k = 0; k < n; k++) {
      while (top >= 2 && !above(stack[top - 2], stack[top - 1], k)) {
        top--;
      }
      stack[top++] = k;
    }
    double[] hull = new double[n];
    int edge = 0;
    for (int k = 0; k < n; k++) {
      while (edge < top - 2 && k > stack[edge + 1]) {
        edge++;
      }
      int a = stack[edge];
      int b = stack[Math.min(edge + 1, top - 1)];
      hull[k] = a == b ? smooth[a] : smooth[a] + share(a, k, b) * (smooth[b] - smooth[a]);
    }
    return hull;
  }

  private boolean above(int a, int b, int c) {
    return smooth[b] > smooth[a] + share(a, b, c) * (smooth[c] - smooth[a]);
  }

  /** Position of b between a and c by voltage, 0 to 1; 0 if a and c have the same voltage. */
  private double share(int a, int b, int c) {
    double span = sweep.volts(order[c]) - sweep.volts(order[a]);
    return span > 0 ? (sweep.volts(order[b]) - sweep.volts(order[a])) / span : 0;
  }

  /** Noise from point to point, from the median magnitude of the third differences. */
  private double pointNoise() {
    if (order.length < 8) {
      return 0;
    }
    double[] sizes = new double[order.length - 3];
    for (int k = 0; k < sizes.length; k++) {
      sizes[k] =
          Math.abs(
              sweep.amps(order[k + 3])
                  - 3 * sweep.amps(order[k + 2])
                  + 3 * sweep.amps(order[k + 1])
                  - sweep.amps(order[k]));
    }
    Arrays.sort(sizes);
    // third differences of white noise have sqrt(20) times its sigma; their median magnitude is
    // 0.6745 of that
    return sizes[sizes.length / 2] / (0.6745 * Math.sqrt(20));
  }
}
