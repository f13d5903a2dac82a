package org.solarmargin.core.profile;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.EstimatorSettings.Rotor;

/** The keys of a craft profile that describe its hover point; all of them or none must be given. */
final class HoverKeys {

  private static final String[] HOVER = {
    "rotor.hover_throttle", "rotor.hover_power_w", "rotor.hover_bus_v"
  };

  /** Guess of the hover point if the profile gives none: common practice, no source. */
  private static final double GUESS_THROTTLE = 0.5;

  private static final double GUESS_POWER_SHARE = 0.55;
  private static final double GUESS_VOLTS_SHARE = 0.88;

  private final StrictProperties in;
  private final double house;
  private final boolean known;
  private final double throttle;
  private final double watts;
  private final double volts;

  HoverKeys(StrictProperties in) {
    this.in = in;
    house = in.number("housekeeping.power_w", 0, 1e5, 3);
    known = in.together(HOVER);
    throttle = in.number(HOVER[0], 0.05, 1, GUESS_THROTTLE);
    watts = in.number(HOVER[1], 0.1, 1e6, Double.NaN);
    volts = in.number(HOVER[2], 0.1, 1e4, Double.NaN);
    if (known && watts <= house) {
      in.faultOf(HOVER[1], HOVER[1] + " must exceed housekeeping.power_w");
    }
  }

  /** Reports a hover point that is impossible with this array or these rotors. */
  void check(HoverCheck check, String massKey, SolarArray array) {
    if (known) {
      HoverCheck.ofArray(in, HOVER[1], watts, array);
      check.ofRotors(in, HOVER[1], watts - house);
      check.ofMass(in, massKey, watts - house);
    } else {
      array.solvePeak();
      check.ofMass(in, massKey, array.peakWatts());
    }
  }

  /** The hover point, guessed from the array if it is not stated; only if no key is faulty. */
  Rotor rotor(SolarArray array) {
    if (known) {
      return new Rotor(throttle, watts, volts, true, house);
    }
    array.solvePeak();
    return new Rotor(
        throttle,
        house + GUESS_POWER_SHARE * array.peakWatts(),
        GUESS_VOLTS_SHARE * array.openCircuitVolts(),
        false,
        house);
  }
}
