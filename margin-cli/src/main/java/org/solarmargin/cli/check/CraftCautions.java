package org.solarmargin.cli.check;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.solarmargin.cli.init.HoverGuess;
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

  /** Error allowed for the knee voltage, from data sheet and temperature: engineering judgement. */
  private static final double VOLTS_ERROR = 0.02;

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
    if (hover.known()) {
      array(profile.settings()).ifPresent(cautions::add);
    }
    cautions.add(margin(profile, hover));
    return cautions;
  }

  private static Optional<String> merit(CraftProfile profile, EstimatorSettings.Rotor hover) {
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
    return merit > GOOD_MERIT || merit < POOR_MERIT ? Optional.of(words) : Optional.empty();
  }

  /** The array in full sun at the profile's hot cell temperature, with its peak solved. */
  private static SolarArray inFullSun(EstimatorSettings settings) {
    SolarArray array = settings.newArray();
    array.set(1, hotCelsius(settings));
    array.solvePeak();
    return array;
  }

  private static double hotCelsius(EstimatorSettings settings) {
    return settings.thermal().ambientCelsius() + settings.thermal().sunRiseKelvin();
  }

  /** Whether the array can hold the stated hover point in full sun. */
  private static Optional<String> array(EstimatorSettings settings) {
    EstimatorSettings.Rotor hover = settings.rotor();
    SolarArray array = inFullSun(settings);
    if (hover.hoverWatts() > array.peakWatts()) {
      return Optional.of(
          String.format(
              Locale.ROOT,
              "Contradictory: rotor.hover_power_w of %.4g W is more than the %.4g W that the array"
                  + " delivers in full sun with cells at %.0f C: check it, the cells, and thermal.*",
              hover.hoverWatts(),
              array.peakWatts(),
              hotCelsius(settings)));
    }
    if (hover.hoverBusVolts() < (1 - VOLTS_ERROR) * array.peakVolts()) {
      Map<String, String> there = HoverGuess.lines(settings, hover.hoverWatts());
      double volts = Double.parseDouble(there.get("rotor.hover_bus_v"));
      return Optional.of(
          String.format(
              Locale.ROOT,
              "Contradictory: rotor.hover_bus_v of %.4g V is below the array's knee, %.4g V in full"
                  + " sun with cells at %.0f C: no craft hovers there. If it was measured on another"
                  + " supply, state the same hover on the array: rotor.hover_bus_v = %.4g,"
                  + " rotor.hover_throttle = %.3g",
              hover.hoverBusVolts(),
              array.peakVolts(),
              hotCelsius(settings),
              volts,
              hover.hoverThrottle() * hover.hoverBusVolts() / volts));
    }
    return Optional.empty();
  }

  private static String margin(CraftProfile profile, EstimatorSettings.Rotor hover) {
    SolarArray array = inFullSun(profile.settings());
    return String.format(
        Locale.ROOT,
        "Hover takes %.3g W of the %.3g W that the array delivers in full sun: a margin of %.0f %%",
        hover.hoverWatts(),
        array.peakWatts(),
        100 * (array.peakWatts() / hover.hoverWatts() - 1));
  }
}
