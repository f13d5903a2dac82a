package org.solarmargin.sim.flight;

import org.solarmargin.sim.array.SimArray;
import org.solarmargin.sim.craft.Propulsion;

/**
 * The operating point of array, motors and housekeeping. The bus has no capacitor, so it settles
 * immediately. With the voltage, the array's current falls and the motors' current rises, so there
 * is one solution, which is found by a bracketed Newton's method. Housekeeping is a constant power
 * above a floor voltage and a resistance below it.
 */
final class BusSolver {

  private static final int ITERATIONS = 60;
  private static final double TOLERANCE = 1e-7;
  private static final double HOUSE_FLOOR_SHARE = 0.2;

  private final SimArray array;
  private final Propulsion propulsion;
  private final double houseWatts;
  private final double open;
  private double volts;
  private double amps;

  BusSolver(SimArray array, Propulsion propulsion, double houseWatts) {
    this.array = array;
    this.propulsion = propulsion;
    this.houseWatts = houseWatts;
    this.open = array.openCircuitVolts();
    this.volts = 0.9 * open;
  }

  void solve(double throttle) {
    double low = 0;
    double high = 1.5 * open;
    double floor = HOUSE_FLOOR_SHARE * open;
    for (int i = 0; i < ITERATIONS; i++) {
      amps = array.ampsAt(volts);
      double house = volts > floor ? houseWatts / volts : houseWatts * volts / (floor * floor);
      double houseSlope =
          volts > floor ? -houseWatts / (volts * volts) : houseWatts / (floor * floor);
      double excess = amps - propulsion.busAmps(volts, throttle) - house;
      if (excess > 0) {
        low = volts;
      } else {
        high = volts;
      }
      double slope = array.ampsPerVolt() - propulsion.busAmpsPerVolt(volts, throttle) - houseSlope;
      double next = volts - excess / slope;
      if (!(next > low && next < high)) {
        next = 0.5 * (low + high);
      }
      double moved = Math.abs(next - volts);
      volts = next;
      if (moved < TOLERANCE) {
        break;
      }
    }
  }

  double volts() {
    return volts;
  }

  double amps() {
    return amps;
  }
}
