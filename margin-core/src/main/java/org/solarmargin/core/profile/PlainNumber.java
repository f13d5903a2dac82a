package org.solarmargin.core.profile;

/**
 * Parses decimal numbers. It refuses the hexadecimal forms and type suffixes of the Java language,
 * with which a typing error would change the value unnoticed.
 */
public final class PlainNumber {

  private PlainNumber() {}

  /**
   * Reads a number.
   *
   * @param text digits with {@code .} as decimal mark, optionally with sign and exponent;
   *     surrounding blanks are ignored
   * @return the value; infinite or NaN only if the text says so or the number is too large
   * @throws NumberFormatException if it is not such a number
   */
  public static double parse(String text) {
    String number = text.strip();
    boolean suffixed = !number.isEmpty() && "dDfF".indexOf(number.charAt(number.length() - 1)) >= 0;
    if (suffixed || number.indexOf('x') >= 0 || number.indexOf('X') >= 0) {
      throw new NumberFormatException(number);
    }
    return Double.parseDouble(number);
  }
}
