package org.solarmargin.cli.check;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;

/** What a pilot should know, or should check, about the craft that a valid profile describes. */
final class CraftCautions {

  private static final double GRAVITY = 9.80665;
  private static final double DENSITY = 1.225;

  /** Usual efficiency of motor and controller together: common practice, no source. */
  private static final double DRIVE = 0.81;

  /** Plausible range of the figure of merit; the bounds are engineering judgement. */
  private static final double GOOD_MERIT = 0.8;

  private static final double POOR_MERIT = 0.35;

  private CraftCautions() {}

  static List<String> of(CraftProfile profile) {
    List<String> cautions = new ArrayList<>();
    EstimatorSettings.Rotor hover = profile.settings().rotor();
    boolean weighed = !Double.isNaN(profile.massKilograms());
    boolean measured = !Double.isNaN(profile.rotorDiameterMetres());
    if (!weighed || !measured) {
      cautions.add(
          "Missing: "
              + (weighed ? "" : "craft.mass_kg ")
              + (measured ? "" : "rotor.diameter_m ")
              + "- simulate and trial use assumed values");
    }
    if (!hover.known()) {
      cautions.add(
          "Missing: rotor.hover_throttle, rotor.hover_power_w, rotor.hover_bus_v - they are learned"
              + " in flight; measure them with margin fit rotor");
    }
    if (weighed && measured && hover.known()) {
      merit(profile, hover).ifPresent(cautions::add);
    }
    cautions.add(margin(profile, hover));
    return cautions;
  }

  private static java.util.Optional<String> merit(
      CraftProfile profile, EstimatorSettings.Rotor hover) {
    double newtons = profile.massKilograms() * GRAVITY / profile.rotors();
    double diameter = profile.rotorDiameterMetres();
    double disc = Math.PI * diameter * diameter / 4;
    double ideal = profile.rotors() * newtons * Math.sqrt(newtons / (2 * DENSITY * disc));
    double merit = ideal / (DRIVE * (hover.hoverWatts() - hover.housekeepingWatts()));
    String words =
        String.format(
            Locale.ROOT,
            "Contradictory: mass, propellers and hover power imply a figure of merit of %.2f;"
                + " propellers have 0.5 to 0.7",
            merit);
    return merit > GOOD_MERIT || merit < POOR_MERIT
        ? java.util.Optional.of(words)
        : java.util.Optional.empty();
  }

  private static String margin(CraftProfile profile, EstimatorSettings.Rotor hover) {
    SolarArray array = profile.settings().newArray();
    EstimatorSettings.Thermal heat = profile.settings().thermal();
    array.set(1, heat.ambientCelsius() + heat.sunRiseKelvin());
    array.solvePeak();
    return String.format(
        Locale.ROOT,
        "Hover takes %.3g W of the %.3g W that the array delivers in full sun: a margin of %.0f %%",
        hover.hoverWatts(),
        array.peakWatts(),
        100 * (array.peakWatts() / hover.hoverWatts() - 1));
  }
}
