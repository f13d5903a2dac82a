package org.solarmargin.cli.report;

import com.google.gson.JsonArray;
import com.google.gson.JsonNull;
import java.math.BigDecimal;
import org.solarmargin.cli.format.Decimals;

/** Formatting of numbers in a page's data. */
public final class Series {

  private Series() {}

  /**
   * Rounds a number to few decimals to keep the file short, as in the estimates file.
   *
   * @param value finite
   * @param decimals after the point, 0 to 6
   * @return the rounded number
   */
  public static Number round(double value, int decimals) {
    StringBuilder text = new StringBuilder();
    Decimals.append(text, value, decimals);
    BigDecimal number = new BigDecimal(text.toString()).stripTrailingZeros();
    return number.scale() < 0 ? number.setScale(0) : number;
  }

  /**
   * Adds a number, or null if it is not finite or 1e12 or more.
   *
   * @param to receives the number
   * @param value any
   * @param decimals after the point, 0 to 6
   */
  public static void add(JsonArray to, double value, int decimals) {
    if (Double.isFinite(value) && Math.abs(value) < 1e12) {
      to.add(round(value, decimals));
    } else {
      to.add(JsonNull.INSTANCE);
    }
  }
}
