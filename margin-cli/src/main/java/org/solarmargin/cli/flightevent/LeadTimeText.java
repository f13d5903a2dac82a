package org.solarmargin.cli.flightevent;

import java.util.Locale;

/** Summary text of an alarm's lead times. */
public final class LeadTimeText {

  private LeadTimeText() {}

  /**
   * Summarises the lead times before losses.
   *
   * @param events number of losses
   * @param missed number of losses without an active alarm
   * @param medianSeconds median lead time of the alarm, with missed losses as 0, s
   * @return one phrase
   */
  public static String of(int events, int missed, double medianSeconds) {
    return events == 0
        ? "no event"
        : String.format(
            Locale.ROOT,
            "%d %s, %d missed, median %.1f s",
            events,
            events == 1 ? "event" : "events",
            missed,
            medianSeconds);
  }
}
