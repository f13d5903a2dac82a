package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.solarmargin.cli.file.ProfileEdit;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Effects of changes to craft and day, one at a time. Hover power is proportional to the mass to
 * the 3/2 and inversely proportional to the diameter (momentum theory at constant figure of merit);
 * each additional cell adds {@link #CELL_KILOGRAMS}.
 */
final class WhatIf {

  /**
   * Mass of a bare back-contact cell of 125 mm with its wiring and film: common practice, no
   * source.
   */
  private static final double CELL_KILOGRAMS = 0.009;

  private static final double CRACKED = 0.85;
  private static final double LIGHTER = 0.1;

  /** Factor on the propellers' diameter. */
  static final double LARGER = 1.1;

  /**
   * Tilt used to compare headings where the array is level, degrees: the pitch in a fresh wind,
   * engineering judgement.
   */
  private static final double SOME_TILT = 15;

  /** A change and the resulting question. */
  record Change(String words, DayQuestion question) {}

  /**
   * The result of a change.
   *
   * @param words description of the change
   * @param best best moment of the day; empty in polar night
   * @param window longest window without WARNING
   */
  record Outcome(String words, Optional<Moment> best, Optional<Window> window) {

    static Outcome of(String words, DayQuestion question, List<Moment> moments) {
      return new Outcome(words, Moment.best(moments), question.withoutWarning(moments));
    }
  }

  private final DayQuestion asked;
  private final CraftProfile profile;
  private final List<String> text;

  /** Creates the changes to a question whose profile has these lines. */
  WhatIf(DayQuestion asked, List<String> text) {
    this.asked = asked;
    this.profile = asked.profile();
    this.text = text;
  }

  /** All changes; those of mass and propellers only where the profile states them. */
  List<Change> changes() throws IOException {
    EstimatorSettings s = profile.settings();
    int series = s.seriesCells();
    int strings = s.parallelStrings();
    Weather weather = asked.weather();
    Place place = asked.place();
    List<Change> list = new ArrayList<>();
    if (profile.massKilograms() > 2 * LIGHTER) {
      list.add(change("100 g lighter", craft(series, strings, -LIGHTER, 1, 0)));
    }
    list.add(
        change(
            "two more cells in each string",
            craft(series + 2, strings, 2 * strings * CELL_KILOGRAMS, 1, 0)));
    list.add(change("one more string", craft(series, strings + 1, series * CELL_KILOGRAMS, 1, 0)));
    if (!Double.isNaN(profile.rotorDiameterMetres())) {
      list.add(
          change(
              "propellers 10 % larger, same figure of merit",
              craft(series, strings, 0, LARGER, 0)));
    }
    // a cracked cell limits the current of its whole string
    list.add(
        new Change(
            "one cracked cell, 15 % less current",
            asked.with(weather.hazier((1 - CRACKED) / strings))));
    list.add(new Change("5 % dirt", asked.with(weather.hazier(0.05))));
    list.add(new Change("10 K hotter", asked.with(weather.warmer(10))));
    list.add(
        new Change(
            "1000 m higher, same air temperature",
            asked.with(new Place(place.latitude(), place.longitude(), place.altitude() + 1000))));
    headings(list);
    return list;
  }

  private Change change(String words, CraftProfile other) {
    return new Change(words, asked.with(other));
  }

  private void headings(List<Change> list) {
    Attitude now = asked.attitude();
    double tilt = now.tilt() > 0 ? now.tilt() : SOME_TILT;
    double noon = asked.place().latitude() >= 0 ? 180 : 0;
    if (now.tilt() == 0 || !now.followsSun()) {
      list.add(heading("tilted %.3g deg, following the sun", tilt, Double.NaN));
    }
    if (now.tilt() == 0 || now.followsSun()) {
      list.add(heading("tilted %.3g deg, facing the noon sun", tilt, noon));
    }
    list.add(heading("tilted %.3g deg, facing away from the noon sun", tilt, 180 - noon));
  }

  private Change heading(String words, double tilt, double heading) {
    return new Change(
        String.format(Locale.ROOT, words, tilt), asked.with(new Attitude(tilt, heading)));
  }

  /** The craft with another array, mass, propellers or housekeeping. */
  CraftProfile craft(
      int series, int strings, double kilograms, double diameter, double addedHousekeeping)
      throws IOException {
    EstimatorSettings.Rotor rotor = profile.settings().rotor();
    double mass = profile.massKilograms();
    double heavier = Double.isNaN(mass) ? 1 : (mass + kilograms) / mass;
    double motors =
        (rotor.hoverWatts() - rotor.housekeepingWatts()) * Math.pow(heavier, 1.5) / diameter;
    double housekeeping = rotor.housekeepingWatts() + addedHousekeeping;
    Map<String, String> values = new LinkedHashMap<>();
    values.put("array.series_cells", "" + series);
    values.put("array.parallel_strings", "" + strings);
    values.put("rotor.hover_throttle", "" + rotor.hoverThrottle());
    values.put("rotor.hover_power_w", "" + (motors + housekeeping));
    values.put("housekeeping.power_w", "" + housekeeping);
    values.put(
        "rotor.hover_bus_v",
        "" + rotor.hoverBusVolts() * series / profile.settings().seriesCells());
    if (!Double.isNaN(mass)) {
      values.put("craft.mass_kg", "" + mass * heavier);
    }
    if (diameter != 1) {
      values.put("rotor.diameter_m", "" + diameter * profile.rotorDiameterMetres());
    }
    StringWriter changed = new StringWriter();
    ProfileEdit.write(text, values, "what if", changed);
    return CraftProfile.parse("what if", changed.toString());
  }
}
