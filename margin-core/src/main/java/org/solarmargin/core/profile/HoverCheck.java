package org.solarmargin.core.profile;

import org.solarmargin.core.array.SolarArray;

/**
 * What a stated hover contradicts: momentum theory (W. J. M. Rankine, Trans. Institution of Naval
 * Architects 6, 1865; H. Glauert, in W. F. Durand (ed.), Aerodynamic Theory IV, 1935), by which a
 * disc of area A in air of density rho takes at least {@code T sqrt(T / (2 rho A))} for a thrust T,
 * and the array's own power.
 */
final class HoverCheck {

  private static final double GRAVITY = 9.80665;

  /** ISA at sea level, kg/m3. */
  private static final double DENSITY = 1.225;

  /** No propeller of a multirotor is larger, m: mass is then in grams, or power in kilowatts. */
  private static final double LARGEST_DIAMETER = 5;

  /**
   * The array in 1000 W/m2 at 25 degrees Celsius, times this, is the most that a hover can be held
   * with: cold cells in the brightest sky.
   */
  private static final double BRIGHTEST = 1.2;

  private final double kilograms;
  private final int rotors;
  private final double diameter;

  /**
   * A craft.
   *
   * @param kilograms its mass; NaN if it is not stated
   * @param rotors how many
   * @param diameter of each, m; NaN if it is not stated
   */
  HoverCheck(double kilograms, int rotors, double diameter) {
    this.kilograms = kilograms;
    this.rotors = rotors;
    this.diameter = diameter;
  }

  /** Least power that lifts the craft, W; NaN where mass or diameter is not stated. */
  double idealWatts() {
    double newtons = kilograms * GRAVITY;
    double discs = rotors * Math.PI * diameter * diameter / 4;
    return newtons * Math.sqrt(newtons / (2 * DENSITY * discs));
  }

  /** Diameter of rotors that lift the craft with a power at best, m. */
  double leastDiameter(double watts) {
    double newtons = kilograms * GRAVITY;
    double discs = newtons * newtons * newtons / (2 * DENSITY * watts * watts);
    return Math.sqrt(4 * discs / (Math.PI * rotors));
  }

  /** Tells of a hover power that the rotors cannot do with. */
  void ofRotors(StrictProperties in, String key, double watts) {
    double ideal = idealWatts();
    if (watts < ideal) {
      in.faultOf(
          key,
          String.format(
              java.util.Locale.ROOT,
              "%s leaves %.3g W for the rotors, but to lift %.4g kg with %d rotors of %.4g m takes"
                  + " %.3g W at best: check craft.mass_kg (kg), rotor.diameter_m (m) and the power",
              key,
              watts,
              kilograms,
              rotors,
              diameter,
              ideal));
    }
  }

  /** Tells of a mass that no rotors of a multirotor lift with a power. */
  void ofMass(StrictProperties in, String key, double watts) {
    double least = leastDiameter(watts);
    if (Double.isNaN(diameter) && least > LARGEST_DIAMETER) {
      in.faultOf(
          key,
          String.format(
              java.util.Locale.ROOT,
              "%s: to lift %.4g kg with %.3g W takes %d rotors of %.3g m or more: give the mass in"
                  + " kilograms",
              key,
              kilograms,
              watts,
              rotors,
              least));
    }
  }

  /** Tells of a hover that the array cannot hold in any light. */
  static void ofArray(StrictProperties in, String key, double watts, SolarArray array) {
    array.set(1, 25);
    array.solvePeak();
    if (watts > BRIGHTEST * array.peakWatts()) {
      in.faultOf(
          key,
          String.format(
              java.util.Locale.ROOT,
              "%s of %.3g W is more than the array gives in any light (%.3g W in 1000 W/m2 at 25"
                  + " degrees C): check it, array.series_cells and array.parallel_strings",
              key,
              watts,
              array.peakWatts()));
    }
  }
}
