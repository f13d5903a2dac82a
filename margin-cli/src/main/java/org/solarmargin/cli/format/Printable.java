package org.solarmargin.cli.format;

/**
 * Makes text from files safe to print: without characters that control a terminal or change the
 * reading direction.
 */
public final class Printable {

  private static final char STAND_IN = '?';

  private Printable() {}

  /**
   * Replaces each unsafe character by a question mark.
   *
   * @param text any text
   * @return one line without control characters; the same object if nothing was replaced
   */
  public static String of(String text) {
    if (text.chars().noneMatch(c -> isControl((char) c))) {
      return text;
    }
    StringBuilder printable = new StringBuilder(text);
    for (int i = 0; i < text.length(); i++) {
      if (isControl(text.charAt(i))) {
        printable.setCharAt(i, STAND_IN);
      }
    }
    return printable.toString();
  }

  /**
   * The same, truncated to a maximum length.
   *
   * @param text any text
   * @param most maximum number of characters kept
   * @return the text, with three dots at the end if it was truncated
   */
  public static String brief(String text, int most) {
    return of(text.length() <= most ? text : text.substring(0, most) + "...");
  }

  /** Control characters, line separators, and marks that change the text direction. */
  static boolean isControl(char c) {
    boolean turns = (c >= '\u202a' && c <= '\u202e') || (c >= '\u2066' && c <= '\u2069');
    boolean marks = c == '\u200e' || c == '\u200f' || c == '\u061c';
    return Character.isISOControl(c) || c == '\u2028' || c == '\u2029' || turns || marks;
  }
}
