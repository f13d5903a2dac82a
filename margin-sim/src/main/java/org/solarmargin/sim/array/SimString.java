package org.solarmargin.sim.array;

import java.util.Arrays;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;

/** Substrings in series: voltage from current, and current from voltage. */
final class SimString {

  private static final int ITERATIONS = 100;
  private static final double TOLERANCE = 1e-10;
  private static final int JOINT_ITERATIONS = 8;
  private static final double JOINT_TOLERANCE = 1e-7;
  private static final double LONGEST_MOVE = 0.15;

  private final Substring[] substrings;
  private final boolean blocking;

  /** The only group of a uniform string, which is solved in its diode voltage; null otherwise. */
  private final CellGroup lone;

  /** The groups of a string without bypass diodes, which are solved jointly; empty otherwise. */
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
   * Newton's method in the current and all diode voltages jointly, from their present values: each
   * step costs one evaluation of each group. Returns false if a step is too long to be reliable.
   */
  private boolean solveJointly(double target) {
    for (int i = 0; i < JOINT_ITERATIONS; i++) {
      double constant = 0;
      double resistance = 0;
      for (CellGroup group : chain) {
        group.evaluate();
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
      if (moved < JOINT_TOLERANCE) {
        return true;
      }
    }
    return false;
  }

  double ampsAt(double target) {
    if (lone != null) {
      lastAmps = lone.ampsAt(target);
      slope = lone.slope();
    } else if (chain.length == 0 || !solveJointly(target)) {
      bracket(target);
    }
    return blocking ? Math.max(lastAmps, 0) : lastAmps;
  }

  /** Bracketed Newton's method in the current alone: slower, but always converges. */
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
