package org.solarmargin.cli.outlook;

import java.util.Locale;

/**
 * What is assumed of a day's air.
 *
 * @param coolest air of the day, degrees Celsius, at 5 h by the sun
 * @param warmest air of the day, at 15 h by the sun
 * @param wind steady, that the craft holds against, m/s
 * @param haze share of the clear sky's light that is lost, 0 to 1
 */
record Weather(double coolest, double warmest, double wind, double haze) {

  private static final double COOLEST_HOUR = 5;
  private static final double WARMEST_HOUR = 15;

  Weather hazier(double share) {
    return new Weather(coolest, warmest, wind, 1 - (1 - haze) * (1 - share));
  }

  Weather warmer(double kelvin) {
    return new Weather(coolest + kelvin, warmest + kelvin, wind, haze);
  }

  /** Between coolest and warmest. */
  double middle() {
    return 0.5 * (coolest + warmest);
  }

  String words() {
    return coolest == warmest
        ? String.format(Locale.ROOT, "%.0f \u00b0C", coolest)
        : String.format(Locale.ROOT, "%.0f to %.0f \u00b0C", coolest, warmest);
  }

  /** Air at an hour by the sun: half a cosine up, half a cosine down. */
  double celsius(double solarHour) {
    double rise = WARMEST_HOUR - COOLEST_HOUR;
    double since = (solarHour - COOLEST_HOUR + 48) % 24;
    double phase = since < rise ? since / rise : 1 + (since - rise) / (24 - rise);
    double middle = 0.5 * (coolest + warmest);
    return middle - 0.5 * (warmest - coolest) * Math.cos(Math.PI * phase);
  }
}
