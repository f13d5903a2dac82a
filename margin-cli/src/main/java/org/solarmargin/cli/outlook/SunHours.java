package org.solarmargin.cli.outlook;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import net.e175.klaus.solarpositioning.DeltaT;
import net.e175.klaus.solarpositioning.SPA;
import net.e175.klaus.solarpositioning.SunriseResult;

/** Sunrise and sunset by the NREL algorithm (Reda and Andreas, NREL/TP-560-34302, appendix A.2). */
final class SunHours {

  private SunHours() {}

  /** Sunrise, transit and sunset of a local day. */
  static SunriseResult of(Place place, LocalDate date, ZoneId zone) {
    return SPA.calculateSunriseTransitSet(
        date.atTime(LocalTime.NOON).atZone(zone),
        place.latitude(),
        place.longitude(),
        DeltaT.estimate(date));
  }

  /** Human-readable sentence. */
  static String words(DayQuestion asked) {
    SunriseResult result = of(asked.place(), asked.date(), asked.zone());
    if (result instanceof SunriseResult.RegularDay day) {
      return "Sun up from "
          + OutlookText.CLOCK.format(day.sunrise())
          + " to "
          + OutlookText.CLOCK.format(day.sunset())
          + ", highest at "
          + OutlookText.CLOCK.format(day.transit())
          + ".";
    }
    return result instanceof SunriseResult.AllDay
        ? "The sun does not set, highest at " + OutlookText.CLOCK.format(result.transit()) + "."
        : "The sun does not rise.";
  }
}
