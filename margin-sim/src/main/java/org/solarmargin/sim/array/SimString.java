package org.solarmargin.sim.array;

import java.util.Arrays;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;

/** Substrings in series: voltage from current, and current from voltage. */
final class SimString {

  private static final int ITERATIONS = 100;
  private static final double TOLERANCE = 1e-10;
  private static final int TOGETHER = 8;
  private static final double TOLERANCE_TOGETHER = 1e-7;
  private static final double LONGEST_MOVE = 0.15;

  private final Substring[] substrings;
  private final boolean blocking;

  /** The only group of a uniform string, which is solved in its diode voltage; else null. */
  private final CellGroup lone;

  /** The groups of a string without bypass diodes, to be solved together; else empty. */
  private final CellGroup[] chain;

  private double volts;
  private double slope;
  private double lastAmps = Double.NaN;

  SimString(StringLayout layout, boolean blocking) {
    substrings = layout.substrings().stream().map(Substring::new).toArray(Substring[]::new);
    this.blocking = blocking;
    boolean plain = Arrays.stream(substrings).noneMatch(Substring::bypassed);
    CellGroup[] all =
        Arrays.stream(substrings)
            .flatMap(sub -> Arrays.stream(sub.groups()))
            .toArray(CellGroup[]::new);
    this.lone = plain && all.length == 1 ? all[0] : null;
    this.chain = plain && all.length > 1 ? all : new CellGroup[0];
  }

  void set(double suns, double kelvin, double seconds) {
    for (Substring substring : substrings) {
      substring.set(suns, kelvin, seconds);
    }
  }

  double greatestPhotocurrent() {
    double most = 0;
    for (Substring substring : substrings) {
      most = Math.max(most, substring.greatestPhotocurrent());
    }
    return most;
  }

  double voltsAt(double amps) {
    volts = 0;
    slope = 0;
    for (Substring substring : substrings) {
      substring.solve(amps);
      volts += substring.volts();
      slope += substring.slope();
    }
    return volts;
  }

  /** dV/dI at the last current, ohm, negative. */
  double slope() {
    return slope;
  }

  /**
   * Newton's method in the current and all diode voltages at once, from where they are: each step
   * costs one look at each group. Gives up where a step is too long to trust.
   */
  private boolean together(double target) {
    for (int i = 0; i < TOGETHER; i++) {
      double constant = 0;
      double resistance = 0;
      for (CellGroup group : chain) {
        group.look();
        constant += group.voltsAtNoCurrent();
        resistance -= group.slope();
      }
      double amps = (constant - target) / resistance;
      double moved = 0;
      for (CellGroup group : chain) {
        moved = Math.max(moved, group.move(amps));
      }
      if (!(moved < LONGEST_MOVE)) {
        return false;
      }
      lastAmps = amps;
      slope = -resistance;
      if (moved < TOLERANCE_TOGETHER) {
        return true;
      }
    }
    return false;
  }

  double ampsAt(double target) {
    if (lone != null) {
      lastAmps = lone.ampsAt(target);
      slope = lone.slope();
    } else if (chain.length == 0 || !together(target)) {
      bracket(target);
    }
    return blocking ? Math.max(lastAmps, 0) : lastAmps;
  }

  /** Newton's method in the current alone, bracketed: slower, and sure. */
  private void bracket(double target) {
    double most = greatestPhotocurrent();
    double low = -3 * most - 1;
    double high = 1.5 * most + 1;
    double amps = lastAmps > low && lastAmps < high ? lastAmps : 0.9 * most;
    double lastExcess = Double.POSITIVE_INFINITY;
    for (int i = 0; i < ITERATIONS; i++) {
      double excess = voltsAt(amps) - target;
      if (excess > 0) {
        low = amps;
      } else {
        high = amps;
      }
      double next = amps - excess / slope;
      boolean creeping = Math.abs(excess) > 0.5 * lastExcess;
      lastExcess = Math.abs(excess);
      if (creeping || !(next > low && next < high)) {
        next = 0.5 * (low + high);
      }
      double moved = Math.abs(next - amps);
      amps = next;
      if (moved < TOLERANCE) {
        break;
      }
    }
    lastAmps = amps;
  }
}
