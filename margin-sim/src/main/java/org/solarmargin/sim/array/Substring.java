package org.solarmargin.sim.array;

import org.solarmargin.sim.array.ArrayLayout.GroupLayout;
import org.solarmargin.sim.array.ArrayLayout.Shadow;
import org.solarmargin.sim.array.ArrayLayout.SubstringLayout;

/** Groups in series, with or without a bypass diode. */
final class Substring {

  /**
   * Saturation current of a Schottky diode, A; this and the next are common practice, no source.
   */
  static final double BYPASS_SATURATION_AMPS = 1e-6;

  static final double BYPASS_EMISSION_VOLTS = 1.05 * 0.02585;
  private static final int ITERATIONS = 80;
  private static final double TOLERANCE = 1e-11;

  private final CellGroup[] groups;
  private final double[] lights;
  private final double[] offsets;
  private final Shadow[] shadows;
  private final boolean bypassed;

  private double volts;
  private double slope;

  Substring(SubstringLayout layout) {
    int n = layout.groups().size();
    groups = new CellGroup[n];
    lights = new double[n];
    offsets = new double[n];
    shadows = new Shadow[n];
    bypassed = layout.bypassed();
    for (int i = 0; i < n; i++) {
      GroupLayout group = layout.groups().get(i);
      groups[i] = new CellGroup(group.cell(), group.count());
      lights[i] = group.lightFactor();
      offsets[i] = group.temperatureOffset();
      shadows[i] = group.shadow();
    }
  }

  boolean bypassed() {
    return bypassed;
  }

  CellGroup[] groups() {
    return groups.clone();
  }

  void set(double suns, double kelvin, double seconds) {
    for (int i = 0; i < groups.length; i++) {
      double light = suns * lights[i] * shadows[i].factor(seconds);
      groups[i].set(light, kelvin + offsets[i]);
    }
  }

  double leastPhotocurrent() {
    double least = groups[0].photocurrent();
    for (int i = 1; i < groups.length; i++) {
      least = Math.min(least, groups[i].photocurrent());
    }
    return least;
  }

  double greatestPhotocurrent() {
    double most = groups[0].photocurrent();
    for (int i = 1; i < groups.length; i++) {
      most = Math.max(most, groups[i].photocurrent());
    }
    return most;
  }

  void solve(double current) {
    cells(current);
    if (!bypassed || volts > 0) {
      return;
    }
    // the diode carries the current that the cells do not. Both have the same voltage: that of the
    // cells at their share, and that of the diode at the rest, a logarithm. The difference
    // decreases
    // monotonically with the share.
    double low = Math.min(0, leastPhotocurrent()) - 1e-9;
    double high = current + BYPASS_SATURATION_AMPS * (1 - 1e-9);
    double share = Math.min(current, leastPhotocurrent());
    double diodeSlope = 0;
    for (int i = 0; i < ITERATIONS; i++) {
      cells(share);
      double forward = BYPASS_SATURATION_AMPS + current - share;
      double excess =
          volts + BYPASS_EMISSION_VOLTS * StrictMath.log(forward / BYPASS_SATURATION_AMPS);
      diodeSlope = -BYPASS_EMISSION_VOLTS / forward;
      if (excess > 0) {
        low = share;
      } else {
        high = share;
      }
      double next = share - excess / (slope + diodeSlope);
      if (!(next > low && next < high)) {
        next = 0.5 * (low + high);
      }
      double moved = Math.abs(next - share);
      share = next;
      if (moved < TOLERANCE) {
        break;
      }
    }
    cells(share);
    slope = 1 / (1 / slope + 1 / diodeSlope);
  }

  private void cells(double current) {
    volts = 0;
    slope = 0;
    for (CellGroup group : groups) {
      group.solve(current);
      volts += group.volts(current);
      slope += group.slope();
    }
  }

  double volts() {
    return volts;
  }

  /** dV/dI, ohm, negative. */
  double slope() {
    return slope;
  }
}
