package org.solarmargin.cli.format;

/**
 * Text from files made fit to print: nothing in it steers a terminal or turns the reading order.
 */
public final class Printable {

  private static final char STAND_IN = '?';

  private Printable() {}

  /**
   * Replaces what is not to be printed, each character by a question mark.
   *
   * @param text any text
   * @return one line without control characters; the same object if it was so already
   */
  public static String of(String text) {
    if (text.chars().noneMatch(c -> steers((char) c))) {
      return text;
    }
    StringBuilder printable = new StringBuilder(text);
    for (int i = 0; i < text.length(); i++) {
      if (steers(text.charAt(i))) {
        printable.setCharAt(i, STAND_IN);
      }
    }
    return printable.toString();
  }

  /**
   * The same, cut short where it is long.
   *
   * @param text any text
   * @param most characters that are kept
   * @return with three dots at the end if it was cut
   */
  public static String brief(String text, int most) {
    return of(text.length() <= most ? text : text.substring(0, most) + "...");
  }

  /** Control characters, line separators, and marks that turn the direction of what follows. */
  static boolean steers(char c) {
    boolean turns = (c >= '\u202a' && c <= '\u202e') || (c >= '\u2066' && c <= '\u2069');
    boolean marks = c == '\u200e' || c == '\u200f' || c == '\u061c';
    return Character.isISOControl(c) || c == '\u2028' || c == '\u2029' || turns || marks;
  }
}
