package org.solarmargin.core.profile;

import org.solarmargin.core.array.SolarArray;

/**
 * Checks a stated hover point against momentum theory (W. J. M. Rankine, Trans. Institution of
 * Naval Architects 6, 1865; H. Glauert, in W. F. Durand (ed.), Aerodynamic Theory IV, 1935), by
 * which a disc of area A in air of density rho requires at least {@code T sqrt(T / (2 rho A))} for
 * a thrust T, and against the array's own power.
 */
final class HoverCheck {

  private static final double GRAVITY = 9.80665;

  /** ISA at sea level, kg/m3. */
  private static final double DENSITY = 1.225;

  /**
   * Largest propeller of a multirotor, m: if a larger one is needed, the mass is in grams or the
   * power in kilowatts. Engineering judgement.
   */
  private static final double LARGEST_DIAMETER = 5;

  /**
   * The highest possible hover power relative to the power of the array in 1000 W/m2 at 25 degrees
   * Celsius, for cold cells under a very bright sky. Engineering judgement.
   */
  private static final double BRIGHTEST = 1.2;

  private final double kilograms;
  private final int rotors;
  private final double diameter;

  /**
   * Creates the check for a craft.
   *
   * @param kilograms mass, kg; NaN if it is not stated
   * @param rotors number of rotors
   * @param diameter diameter of each rotor, m; NaN if it is not stated
   */
  HoverCheck(double kilograms, int rotors, double diameter) {
    this.kilograms = kilograms;
    this.rotors = rotors;
    this.diameter = diameter;
  }

  /** Least power that lifts the craft, W; NaN if mass or diameter is not stated. */
  double idealWatts() {
    double newtons = kilograms * GRAVITY;
    double discs = rotors * Math.PI * diameter * diameter / 4;
    return newtons * Math.sqrt(newtons / (2 * DENSITY * discs));
  }

  /** Least diameter of rotors that lift the craft with a given power, m. */
  double leastDiameter(double watts) {
    double newtons = kilograms * GRAVITY;
    double discs = newtons * newtons * newtons / (2 * DENSITY * watts * watts);
    return Math.sqrt(4 * discs / (Math.PI * rotors));
  }

  /** Reports a hover power that is too low for the rotors. */
  void ofRotors(StrictProperties in, String key, double watts) {
    double ideal = idealWatts();
    if (watts < ideal) {
      in.faultOf(
          key,
          String.format(
              java.util.Locale.ROOT,
              "%s leaves %.3g W for the rotors, but lifting %.4g kg with %d rotors of %.4g m takes at"
                  + " least %.3g W: check craft.mass_kg (kg), rotor.diameter_m (m) and the power",
              key,
              watts,
              kilograms,
              rotors,
              diameter,
              ideal));
    }
  }

  /** Reports a mass that no rotors of a multirotor could lift with a given power. */
  void ofMass(StrictProperties in, String key, double watts) {
    double least = leastDiameter(watts);
    if (Double.isNaN(diameter) && least > LARGEST_DIAMETER) {
      in.faultOf(
          key,
          String.format(
              java.util.Locale.ROOT,
              "%s: lifting %.4g kg with %.3g W takes %d rotors of %.3g m or more: give the mass in"
                  + " kilograms",
              key,
              kilograms,
              watts,
              rotors,
              least));
    }
  }

  /** Reports a hover power that the array cannot supply in any light. */
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
