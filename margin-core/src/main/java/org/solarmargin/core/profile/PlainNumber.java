package org.solarmargin.core.profile;

/**
 * Numbers as people write them: not in the hexadecimal forms and with the type suffixes of the Java
 * language, where a slip of the key would change the value unseen.
 */
public final class PlainNumber {

  private PlainNumber() {}

  /**
   * Reads a number.
   *
   * @param text digits with {@code .} as decimal mark, sign and exponent if need be; blanks about
   *     it are ignored
   * @return the value; infinite or NaN only if the text says so or the number is too large
   * @throws NumberFormatException if it is no such number
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
