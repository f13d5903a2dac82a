package org.solarmargin.cli.csv;

/** Whether the quotes of a line of CSV text are balanced as RFC 4180 requires. */
final class QuotedLine {

  private QuotedLine() {}

  /**
   * Checks a line.
   *
   * @param text any encoding that keeps ASCII
   * @param from index of its first byte
   * @param to index after its last byte, the line end excluded
   * @return UNCLOSED if the number of quotes is odd or a quoted field is not closed, MISPLACED if
   *     text stands between a closing quote and the next comma; null if the quotes are balanced
   */
  static LineFaults.Kind fault(byte[] text, int from, int to) {
    int quotes = 0;
    boolean fresh = true;
    boolean inside = false;
    boolean closed = false;
    boolean misplaced = false;
    for (int i = from; i < to; i++) {
      byte one = text[i];
      boolean quote = one == '"';
      quotes += quote ? 1 : 0;
      if (inside) {
        inside = !quote;
        closed = quote;
      } else if (closed && quote) {
        inside = true; // a doubled quote
        closed = false;
      } else {
        misplaced |= closed && one != ',';
        closed = false;
        inside = fresh && quote;
      }
      fresh = !inside && one == ',';
    }
    if (inside || quotes % 2 != 0) {
      return LineFaults.Kind.UNCLOSED;
    }
    return misplaced ? LineFaults.Kind.MISPLACED : null;
  }
}
