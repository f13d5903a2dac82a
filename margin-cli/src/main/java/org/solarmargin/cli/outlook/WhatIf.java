package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.io.StringWriter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.solarmargin.cli.text.ProfileEdit;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Changes of craft and day, one at a time. Power of a hover goes with the mass to the 3/2 and with
 * one over the diameter (momentum theory at one figure of merit); a string or a cell more weighs
 * what is stated beside it.
 */
final class WhatIf {

  /** A bare back-contact cell of 125 mm with its wiring and film: common practice, no source. */
  private static final double CELL_KILOGRAMS = 0.009;

  private static final double CRACKED = 0.85;

  /** A change and what it makes of the day. */
  record Change(String words, CraftProfile profile, Weather weather, Place place) {}

  private final CraftProfile profile;
  private final List<String> text;
  private final Weather weather;
  private final Place place;

  WhatIf(CraftProfile profile, List<String> text, Weather weather, Place place) {
    this.profile = profile;
    this.text = text;
    this.weather = weather;
    this.place = place;
  }

  List<Change> changes() throws IOException {
    EstimatorSettings s = profile.settings();
    int series = s.seriesCells();
    int strings = s.parallelStrings();
    List<Change> list = new ArrayList<>();
    list.add(craft("100 g lighter", series, strings, -0.1, 1, 1));
    list.add(
        craft(
            "two cells more in each string",
            series + 2,
            strings,
            2 * strings * CELL_KILOGRAMS,
            1,
            1));
    list.add(craft("one string more", series, strings + 1, series * CELL_KILOGRAMS, 1, 1));
    if (!Double.isNaN(profile.rotorDiameterMetres())) {
      list.add(craft("propellers 10 % larger, same figure of merit", series, strings, 0, 1.1, 1));
    }
    list.add(craft("one cracked cell, 15 % less current", series, strings, 0, 1, CRACKED));
    list.add(new Change("5 % dirt", profile, hazier(0.05), place));
    list.add(
        new Change(
            "10 K hotter",
            profile,
            new Weather(
                weather.coolest() + 10, weather.warmest() + 10, weather.wind(), weather.haze()),
            place));
    list.add(
        new Change(
            "1000 m higher",
            profile,
            weather,
            new Place(place.latitude(), place.longitude(), place.altitude() + 1000)));
    return list;
  }

  private Weather hazier(double share) {
    double haze = 1 - (1 - weather.haze()) * (1 - share);
    return new Weather(weather.coolest(), weather.warmest(), weather.wind(), haze);
  }

  /** A cracked cell limits its string: the whole string is taken at its current. */
  private Change craft(
      String words, int series, int strings, double kilograms, double diameter, double crack)
      throws IOException {
    EstimatorSettings.Rotor rotor = profile.settings().rotor();
    double mass = profile.massKilograms();
    double heavier = Double.isNaN(mass) ? 1 : (mass + kilograms) / mass;
    double motors =
        (rotor.hoverWatts() - rotor.housekeepingWatts()) * Math.pow(heavier, 1.5) / diameter;
    Map<String, String> values = new LinkedHashMap<>();
    values.put("array.series_cells", "" + series);
    values.put("array.parallel_strings", "" + strings);
    values.put("rotor.hover_throttle", "" + rotor.hoverThrottle());
    values.put("rotor.hover_power_w", "" + (motors + rotor.housekeepingWatts()));
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
    ProfileEdit.write(text, values, words, changed);
    CraftProfile other = CraftProfile.parse(words, changed.toString());
    double share = crack == 1 ? 0 : (1 - crack) / strings;
    return new Change(words, other, share == 0 ? weather : hazier(share), place);
  }
}
