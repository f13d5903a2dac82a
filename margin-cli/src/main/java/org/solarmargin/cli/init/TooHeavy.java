package org.solarmargin.cli.init;

import java.math.BigDecimal;
import java.util.Locale;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.profile.CraftProfile;

/** A craft that its array cannot lift in any light, in terms of the options that describe it. */
final class TooHeavy {

  /** Less than the mass of any craft in grams, and more than solar cells lift: a judgement. */
  private static final double LEAST_GRAMS = 50;

  private TooHeavy() {}

  /** Power needed and delivered, and what to check. */
  static String words(CraftProfile craft) {
    SolarArray array = craft.settings().newArray();
    array.solvePeak();
    double mass = craft.massKilograms();
    String need =
        String.format(
            Locale.ROOT,
            "--mass-kg %s: hover takes about %.3g W with %d rotors of %.3g m, but the array"
                + " delivers %.3g W in full sun at 25 degrees C: ",
            OptionFaults.plain(BigDecimal.valueOf(mass)),
            watts(craft, mass),
            craft.rotors(),
            craft.rotorDiameterMetres(),
            array.peakWatts());
    return watts(craft, mass / 1000) < array.peakWatts() && mass >= LEAST_GRAMS
        ? need + "give the mass in kilograms, " + OptionFaults.grams(mass)
        : need
            + "check --mass-kg (kg), --diameter-m (m), --series and --parallel; margin size finds"
            + " how many cells suffice";
  }

  private static double watts(CraftProfile craft, double kilograms) {
    return craft.settings().rotor().housekeepingWatts()
        + HoverGuess.motorWatts(kilograms, craft.rotors(), craft.rotorDiameterMetres());
  }
}
