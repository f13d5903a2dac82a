package org.solarmargin.sim.array;

import org.solarmargin.sim.array.ArrayLayout.StringLayout;

/** Substrings in series: voltage from current, and current from voltage. */
final class SimString {

  private static final int ITERATIONS = 100;
  private static final double TOLERANCE = 1e-10;

  private final Substring[] substrings;
  private final boolean blocking;

  /** The only group of a uniform string, which is solved in its diode voltage; else null. */
  private final CellGroup lone;

  private double volts;
  private double slope;
  private double lastAmps = Double.NaN;

  SimString(StringLayout layout, boolean blocking) {
    substrings = layout.substrings().stream().map(Substring::new).toArray(Substring[]::new);
    this.blocking = blocking;
    this.lone = substrings.length == 1 ? substrings[0].lone() : null;
  }

  void set(double suns, double kelvin) {
    for (Substring substring : substrings) {
      substring.set(suns, kelvin);
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

  double ampsAt(double target) {
    if (lone != null) {
      double amps = lone.ampsAt(target);
      slope = lone.slope();
      return blocking ? Math.max(amps, 0) : amps;
    }
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
    return blocking ? Math.max(amps, 0) : amps;
  }
}
