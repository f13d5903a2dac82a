package org.solarmargin.cli.format;

import java.io.FilterWriter;
import java.io.IOException;
import java.io.Writer;
import java.util.List;

/**
 * The last filter before a terminal. It replaces every character that would control the terminal in
 * anything that a verb prints, file names included, except for line ends, tabs, and the colours and
 * the few sequences that this program sets itself.
 */
public final class TerminalText extends FilterWriter {

  /** Sounds the bell. */
  public static final String BELL = "\u001b[0m\u0007";

  /** Returns to the start of the line and clears it. */
  public static final String CLEAR_LINE = "\r\u001b[K";

  /** Cuts off lines that are wider than the terminal from here on. */
  public static final String CUT = "\u001b[?7l";

  /** Wraps lines that are wider than the terminal from here on. */
  public static final String WRAP = "\u001b[?7h";

  private static final List<String> OWN = List.of(BELL, CLEAR_LINE, CUT, WRAP);
  private static final char ESCAPE = '\u001b';

  private final boolean colours;

  /**
   * Creates the filter.
   *
   * @param out receives the filtered text
   * @param colours whether colours and the program's own sequences may pass, as to a terminal
   */
  public TerminalText(Writer out, boolean colours) {
    super(out);
    this.colours = colours;
  }

  @Override
  public void write(int c) throws IOException {
    write(String.valueOf((char) c), 0, 1);
  }

  @Override
  public void write(char[] text, int from, int length) throws IOException {
    write(new String(text, from, length), 0, length);
  }

  @Override
  public void write(String text, int from, int length) throws IOException {
    StringBuilder safe = new StringBuilder(length);
    int i = from;
    while (i < from + length) {
      int passed = colours ? ownEnd(text, i, from + length) : i;
      if (passed > i) {
        safe.append(text, i, passed);
        i = passed;
      } else {
        char c = text.charAt(i++);
        boolean layout = c == '\n' || c == '\r' || c == '\t';
        safe.append(layout ? String.valueOf(c) : Printable.of(String.valueOf(c)));
      }
    }
    out.append(safe);
  }

  /** End of a sequence that this program sets itself; otherwise its start. */
  private static int ownEnd(String text, int start, int to) {
    for (String own : OWN) {
      if (text.startsWith(own, start) && start + own.length() <= to) {
        return start + own.length();
      }
    }
    return colourEnd(text, start, to);
  }

  /**
   * End of a sequence that sets a colour, {@code ESC [ digits and semicolons m}; else its start.
   */
  private static int colourEnd(String text, int start, int to) {
    if (text.charAt(start) != ESCAPE || start + 1 >= to || text.charAt(start + 1) != '[') {
      return start;
    }
    int i = start + 2;
    while (i < to && (text.charAt(i) == ';' || Character.isDigit(text.charAt(i)))) {
      i++;
    }
    return i < to && text.charAt(i) == 'm' ? i + 1 : start;
  }
}
