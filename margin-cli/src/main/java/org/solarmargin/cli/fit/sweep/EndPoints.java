package org.solarmargin.cli.fit.sweep;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * Outliers at the ends of a sweep that do not indicate a faulty array. Electronic loads cannot
 * cross zero and clip the last point near zero current, and their first points are taken while the
 * load settles. Such points are left out and reported. Only the extreme ends are considered, so
 * that a step of a shaded array is not mistaken for one: points in the first tenth of the voltage
 * that deviate by a few percent, and one point with almost no current.
 */
final class EndPoints {

  /** With fewer points than this, none is left out. */
  private static final int FEWEST = 20;

  /**
   * Cells that warm up by more than this during the sweep may look stepped for that reason alone,
   * K.
   */
  private static final double MOST_KELVIN = 5;

  private static final int MOST_FIRST = 3;
  private static final double FIRST_VOLTS_SHARE = 0.1;

  /** Current of a last point that may be clipped, relative to the largest. */
  private static final double LAST_AMPS_SHARE = 0.03;

  /**
   * Error of a first point relative to the largest current: in sweeps with working instruments it
   * was 1 to 4 %. Below the lower limit it is harmless; above the upper one it is not due to
   * settling.
   */
  private static final double LEAST_ERROR = 0.006;

  private static final double MOST_ERROR = 0.05;
  private static final double SIGMAS = 8;
  private static final double MAD_TO_SIGMA = 1.4826;

  private EndPoints() {}

  /**
   * The sweep without the end points that make it look stepped; the sweep itself if removing them
   * does not help.
   */
  static Sweep withoutSteps(Sweep sweep, double slack) {
    boolean oneTemperature = sweep.celsiusSpread() < MOST_KELVIN;
    if (sweep.size() < FEWEST || !oneTemperature || new StepFinder(sweep).volts(slack).isEmpty()) {
      return sweep;
    }
    for (int first = 0; first <= mostFirst(sweep); first++) {
      for (int last = 0; last <= (lastIsRemovable(sweep) ? 1 : 0); last++) {
        if (first + last > 0) {
          Sweep inner = sweep.without(first, last);
          boolean smooth = new StepFinder(inner).volts(slack).isEmpty();
          if (smooth && firstError(sweep, first) <= MOST_ERROR * sweep.mostAmps()) {
            return noted(sweep, inner, first, last, Double.NaN);
          }
        }
      }
    }
    return sweep;
  }

  /**
   * The sweep without end points that are outliers of the fit; the sweep itself if there are none.
   */
  static Sweep withoutOutliers(FitResult fit) {
    Sweep sweep = fit.sweep();
    if (sweep.size() < FEWEST) {
      return sweep;
    }
    int[] order = sweep.byVoltage();
    double[] sizes = new double[order.length];
    Arrays.setAll(sizes, k -> Math.abs(fit.residual(order[k])));
    double[] sorted = sizes.clone();
    Arrays.sort(sorted);
    double limit =
        Math.max(SIGMAS * MAD_TO_SIGMA * sorted[sorted.length / 2], LEAST_ERROR * sweep.mostAmps());
    int first = 0;
    for (int k = mostFirst(sweep); k > 0 && first == 0; k--) {
      double size = sizes[k - 1];
      first = size > limit && size <= MOST_ERROR * sweep.mostAmps() ? k : 0;
    }
    int last = lastIsRemovable(sweep) && sizes[order.length - 1] > limit ? 1 : 0;
    if (first + last == 0) {
      return sweep;
    }
    return noted(sweep, sweep.without(first, last), first, last, first > 0 ? sizes[0] : Double.NaN);
  }

  /** Largest deviation of the removed points from the first one that is kept, A. */
  private static double firstError(Sweep sweep, int first) {
    int[] order = sweep.byVoltage();
    double most = 0;
    for (int k = 0; k < first; k++) {
      most = Math.max(most, Math.abs(sweep.amps(order[k]) - sweep.amps(order[first])));
    }
    return most;
  }

  private static int mostFirst(Sweep sweep) {
    int[] order = sweep.byVoltage();
    int most = 0;
    while (most < MOST_FIRST && sweep.volts(order[most]) <= FIRST_VOLTS_SHARE * sweep.mostVolts()) {
      most++;
    }
    return most;
  }

  private static boolean lastIsRemovable(Sweep sweep) {
    int[] order = sweep.byVoltage();
    return Math.abs(sweep.amps(order[order.length - 1])) <= LAST_AMPS_SHARE * sweep.mostAmps();
  }

  private static Sweep noted(Sweep from, Sweep inner, int first, int last, double error) {
    int[] order = from.byVoltage();
    List<String> notes = new ArrayList<>();
    if (first > 0) {
      String by =
          Double.isNaN(error)
              ? ""
              : String.format(Locale.ROOT, " by %.1f %%", 100 * error / from.mostAmps());
      notes.add(
          first == 1
              ? "first point is off" + by + ", left out"
              : "first " + first + " points are off" + by + ", left out");
    }
    if (last > 0) {
      int at = order[order.length - 1];
      notes.add(
          String.format(
              Locale.ROOT,
              "last point is off (%.4g V, %.3g A), left out",
              from.volts(at),
              from.amps(at)));
    }
    return inner.withNotes(notes);
  }
}
