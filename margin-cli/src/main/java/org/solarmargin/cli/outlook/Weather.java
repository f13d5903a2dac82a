package org.solarmargin.cli.outlook;

import java.util.Locale;

/**
 * Assumptions about a day's air.
 *
 * @param coolest lowest air temperature of the day, degrees Celsius, at 5 h solar time
 * @param warmest highest air temperature of the day, degrees Celsius, at 15 h solar time
 * @param wind steady wind that the craft holds against, m/s
 * @param haze share of the clear sky's light that is lost, 0 to 1
 */
record Weather(double coolest, double warmest, double wind, double haze) {

  /** Solar hours of the extremes: common practice, no source. */
  private static final double COOLEST_HOUR = 5;

  private static final double WARMEST_HOUR = 15;

  Weather hazier(double share) {
    return new Weather(coolest, warmest, wind, 1 - (1 - haze) * (1 - share));
  }

  Weather warmer(double kelvin) {
    return new Weather(coolest + kelvin, warmest + kelvin, wind, haze);
  }

  /** Mean of lowest and highest air temperature, degrees Celsius. */
  double middle() {
    return 0.5 * (coolest + warmest);
  }

  String words() {
    return coolest == warmest
        ? String.format(Locale.ROOT, "%.0f \u00b0C", coolest)
        : String.format(Locale.ROOT, "%.0f to %.0f \u00b0C", coolest, warmest);
  }

  /** Air temperature at a solar hour: half a cosine up, half a cosine down. */
  double celsius(double solarHour) {
    double rise = WARMEST_HOUR - COOLEST_HOUR;
    double since = (solarHour - COOLEST_HOUR + 48) % 24;
    double phase = since < rise ? since / rise : 1 + (since - rise) / (24 - rise);
    double middle = 0.5 * (coolest + warmest);
    return middle - 0.5 * (warmest - coolest) * Math.cos(Math.PI * phase);
  }
}
