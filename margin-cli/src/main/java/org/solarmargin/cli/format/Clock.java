package org.solarmargin.cli.format;

import java.util.Locale;

/** Formats times of a flight. */
public final class Clock {

  private Clock() {}

  /**
   * Minutes and seconds.
   *
   * @param seconds any finite value
   * @return like 1:05.3
   */
  public static String minutes(double seconds) {
    long tenths = Math.round(Math.abs(seconds) * 10);
    String sign = seconds < 0 ? "-" : "";
    return String.format(
        Locale.ROOT, "%s%d:%02d.%d", sign, tenths / 600, tenths / 10 % 60, tenths % 10);
  }
}
