package org.solarmargin.cli.format;

import java.io.FilterWriter;
import java.io.IOException;
import java.io.Writer;

/**
 * The last filter before a terminal. It replaces every character that would control the terminal in
 * anything that a verb prints, file names included, except for line ends, tabs and the colours that
 * this program sets itself.
 */
public final class TerminalText extends FilterWriter {

  /** Rings the terminal's bell, written as a character by itself; within a text it does not. */
  public static final char BELL = '\u0007';

  private static final char ESCAPE = '\u001b';

  private final boolean colours;

  /**
   * Creates the filter.
   *
   * @param out receives the filtered text
   * @param colours whether colours may pass
   */
  public TerminalText(Writer out, boolean colours) {
    super(out);
    this.colours = colours;
  }

  @Override
  public void write(int c) throws IOException {
    if (c == BELL) {
      out.write(c);
    } else {
      write(String.valueOf((char) c), 0, 1);
    }
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
      int coloured = colours ? colourEnd(text, i, from + length) : i;
      if (coloured > i) {
        safe.append(text, i, coloured);
        i = coloured;
      } else {
        char c = text.charAt(i++);
        boolean layout = c == '\n' || c == '\r' || c == '\t';
        safe.append(layout ? String.valueOf(c) : Printable.of(String.valueOf(c)));
      }
    }
    out.append(safe);
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
