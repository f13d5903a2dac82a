package org.solarmargin.cli.outlook;

import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.solarmargin.core.profile.CraftProfile;

/**
 * The input of a forecast: craft, place, day, and assumptions.
 *
 * @param profile profile of the craft
 * @param place location
 * @param weather weather of the day
 * @param attitude attitude of the array
 * @param date the day
 * @param zone time zone of the day and of all times
 * @param step interval between moments
 */
record DayQuestion(
    CraftProfile profile,
    Place place,
    Weather weather,
    Attitude attitude,
    LocalDate date,
    ZoneId zone,
    Duration step) {

  DayOutlook outlook() {
    return new DayOutlook(profile, place, weather, attitude);
  }

  List<Moment> moments() {
    return outlook().day(date, zone, step);
  }

  /** The longest period of the day without WARNING. */
  Optional<Window> withoutWarning(List<Moment> moments) {
    return Window.longest(moments, profile.rules().warning().marginPercent(), step);
  }

  DayQuestion with(CraftProfile other) {
    return new DayQuestion(other, place, weather, attitude, date, zone, step);
  }

  DayQuestion with(Weather other) {
    return new DayQuestion(profile, place, other, attitude, date, zone, step);
  }

  DayQuestion with(Place other) {
    return new DayQuestion(profile, other, weather, attitude, date, zone, step);
  }

  DayQuestion with(Attitude other) {
    return new DayQuestion(profile, place, weather, other, date, zone, step);
  }

  /** Human-readable summary. */
  String words() {
    return String.format(
        Locale.ROOT,
        "%s\u00b0 %s, %s\u00b0 %s, %.0f m; air %s; wind %.1f m/s; array %s; haze %.0f %%; times in"
            + " %s",
        Math.abs(place.latitude()),
        place.latitude() < 0 ? "S" : "N",
        Math.abs(place.longitude()),
        place.longitude() < 0 ? "W" : "E",
        place.altitude(),
        weather.words(),
        weather.wind(),
        attitude.words(),
        100 * weather.haze(),
        zone);
  }
}
