package org.solarmargin.cli.watch;

import com.google.gson.JsonObject;
import java.math.BigDecimal;
import java.math.RoundingMode;

/** Numbers in JSON as plain decimals, without an exponent and without the digits of rounding. */
final class JsonNumber {

  private JsonNumber() {}

  /**
   * Adds a number; nothing if it is not finite.
   *
   * @param decimals largest number of decimals
   */
  static void add(JsonObject json, String name, double value, int decimals) {
    if (Double.isFinite(value)) {
      BigDecimal rounded =
          BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP).stripTrailingZeros();
      // at least one decimal, so that a program reads one type; a negative scale would be written
      // with an exponent
      json.addProperty(name, rounded.setScale(Math.max(1, rounded.scale())));
    }
  }
}
