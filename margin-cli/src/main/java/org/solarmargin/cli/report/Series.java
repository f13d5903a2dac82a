package org.solarmargin.cli.report;

import com.google.gson.JsonArray;
import com.google.gson.JsonNull;
import java.math.BigDecimal;

/** Numbers as the page's data has them. */
public final class Series {

  private static final double[] POWERS = {1, 10, 100, 1e3, 1e4, 1e5, 1e6};

  private Series() {}

  /**
   * A number of few decimals, short in the file; rounded as the estimates file is.
   *
   * @param value finite
   * @param decimals after the point, 0 to 6
   * @return the rounded number
   */
  public static Number round(double value, int decimals) {
    long scaled = Math.round(Math.abs(value) * POWERS[decimals]);
    BigDecimal number =
        BigDecimal.valueOf(value < 0 ? -scaled : scaled, decimals).stripTrailingZeros();
    return number.scale() < 0 ? number.setScale(0) : number;
  }

  /**
   * Adds a number, or null where there is none.
   *
   * @param to where
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
