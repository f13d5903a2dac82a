package org.solarmargin.cli.format;

import java.io.PrintWriter;
import java.util.Locale;

/**
 * Human-readable text, line by line, formatted independently of the locale and without trailing
 * blanks.
 */
public final class Lines {

  private static final String RULE = "-".repeat(78);

  private final PrintWriter out;

  /**
   * Creates a printer of lines.
   *
   * @param out standard output
   */
  public Lines(PrintWriter out) {
    this.out = out;
  }

  /**
   * Prints a formatted line.
   *
   * @param format format of {@link java.util.Formatter}
   * @param values its values
   */
  public void line(String format, Object... values) {
    out.println(String.format(Locale.ROOT, format, values).stripTrailing());
  }

  /**
   * Prints a line unchanged.
   *
   * @param text printed literally
   */
  public void text(String text) {
    out.println(text);
  }

  /** An empty line. */
  public void blank() {
    out.println();
  }

  /** A rule across the page. */
  public void rule() {
    out.println(RULE);
  }

  /** Flushes the writer. */
  public void flush() {
    out.flush();
  }
}
