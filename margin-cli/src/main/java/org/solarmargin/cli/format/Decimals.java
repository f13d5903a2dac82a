package org.solarmargin.cli.format;

/** Fixed-point numbers for CSV, without the cost of a format string. */
public final class Decimals {

  private static final double[] POWERS = {1, 10, 100, 1e3, 1e4, 1e5, 1e6};
  private static final double LARGEST = 1e12;

  private Decimals() {}

  /**
   * Appends a number with a fixed count of decimals, rounded half up; nothing if it is not finite.
   *
   * @param to receives the text
   * @param value any value; beyond 1e12 it is written as Java writes doubles
   * @param decimals 0 to 6
   */
  public static void append(StringBuilder to, double value, int decimals) {
    if (Double.isNaN(value) || Double.isInfinite(value)) {
      return;
    }
    if (Math.abs(value) >= LARGEST) {
      to.append(value);
      return;
    }
    long scaled = Math.round(Math.abs(value) * POWERS[decimals]);
    if (value < 0 && scaled != 0) {
      to.append('-');
    }
    long unit = (long) POWERS[decimals];
    to.append(scaled / unit);
    if (decimals > 0) {
      to.append('.');
      String fraction = Long.toString(scaled % unit);
      for (int i = fraction.length(); i < decimals; i++) {
        to.append('0');
      }
      to.append(fraction);
    }
  }
}
