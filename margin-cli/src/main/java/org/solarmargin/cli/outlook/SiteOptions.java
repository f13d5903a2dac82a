package org.solarmargin.cli.outlook;

import java.time.DateTimeException;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneId;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PlainNumber;
import picocli.CommandLine.Option;

/** Options for the location, the time zone, and assumptions about air and light. */
final class SiteOptions {

  @Option(
      names = "--at",
      required = true,
      paramLabel = "LAT,LON[,ALT]",
      description = "degrees north, degrees east, metres above sea level")
  private String at;

  @Option(
      names = "--zone",
      defaultValue = "UTC",
      paramLabel = "ZONE",
      description = "time zone, such as Europe/Berlin or +02:00 (default: UTC)")
  private String zone;

  @Option(
      names = "--air-c",
      paramLabel = "T|LOW,HIGH",
      description =
          "air temperature all day, or its lowest and highest value (default: the profile's)")
  private String air;

  @Option(
      names = "--wind",
      defaultValue = "0",
      paramLabel = "M_S",
      description = "steady wind that the craft holds against (default: ${DEFAULT-VALUE})")
  private double wind;

  @Option(
      names = "--tilt",
      defaultValue = "0",
      paramLabel = "DEG",
      description = "tilt of the array from level (default: ${DEFAULT-VALUE})")
  private double tilt;

  @Option(
      names = "--heading",
      defaultValue = "sun",
      paramLabel = "DEG|sun",
      description =
          "direction in which the tilted array faces, from north, or sun to follow the sun"
              + " (default: ${DEFAULT-VALUE})")
  private String heading;

  @Option(
      names = "--haze",
      defaultValue = "0",
      paramLabel = "PCT",
      description = "light lost to haze, percent (default: ${DEFAULT-VALUE})")
  private double haze;

  /** Options, filled in by picocli. */
  SiteOptions() {}

  private static double number(String text, double low, double high, String rule) {
    double value;
    try {
      value = PlainNumber.parse(text);
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException(rule + ": " + text, e);
    }
    if (!(value >= low && value <= high)) {
      throw new IllegalArgumentException(rule + ": " + text);
    }
    return value;
  }

  Place place() {
    String rule = "--at must be LAT,LON[,ALT] in [-90, 90], [-180, 180], [-400, 6000]";
    String[] parts = at.split(",", -1);
    if (parts.length < 2 || parts.length > 3) {
      throw new IllegalArgumentException(rule + ": " + at);
    }
    return new Place(
        number(parts[0], -90, 90, rule),
        number(parts[1], -180, 180, rule),
        parts.length == 3 ? number(parts[2], -400, 6000, rule) : 0);
  }

  ZoneId zone() {
    try {
      return ZoneId.of(zone);
    } catch (DateTimeException e) {
      throw new IllegalArgumentException("--zone must be like Europe/Berlin or +02:00: " + zone, e);
    }
  }

  Weather weather(CraftProfile profile) {
    String rule = "--air-c must be T or LOW,HIGH in [-40, 60] C";
    double usual = profile.settings().thermal().ambientCelsius();
    String[] parts = air == null ? new String[] {"" + usual} : air.split(",", -1);
    double low = number(parts[0], -40, 60, rule);
    double high = number(parts[parts.length - 1], -40, 60, rule);
    if (parts.length > 2 || low > high) {
      throw new IllegalArgumentException(rule + ": " + air);
    }
    if (!(wind >= 0 && wind <= 30) || !(haze >= 0 && haze < 100)) {
      throw new IllegalArgumentException(
          "--wind must be in [0, 30] m/s and --haze in [0, 100) percent: " + wind + ", " + haze);
    }
    return new Weather(low, high, wind, haze / 100);
  }

  /** The input of a forecast for a craft on a day at this location. */
  DayQuestion question(CraftProfile profile, LocalDate day, Duration step) {
    return new DayQuestion(profile, place(), weather(profile), attitude(), day, zone(), step);
  }

  Attitude attitude() {
    if (!(tilt >= 0 && tilt <= 90)) {
      throw new IllegalArgumentException("--tilt must be in [0, 90] degrees: " + tilt);
    }
    String rule = "--heading must be sun or in [0, 360] degrees";
    return new Attitude(tilt, heading.equals("sun") ? Double.NaN : number(heading, 0, 360, rule));
  }
}
