package org.solarmargin.cli.flightevent;

import java.util.Locale;

/** How an alarm did before losses, for people. */
public final class LeadWords {

  private LeadWords() {}

  /**
   * Losses in one figure.
   *
   * @param events losses
   * @param missed of these, without a standing alarm
   * @param medianSeconds how long the alarm had stood, missed ones as 0, s
   * @return one phrase
   */
  public static String of(int events, int missed, double medianSeconds) {
    return events == 0
        ? "no event"
        : String.format(
            Locale.ROOT, "%d events, %d missed, median %.1f s", events, missed, medianSeconds);
  }
}
