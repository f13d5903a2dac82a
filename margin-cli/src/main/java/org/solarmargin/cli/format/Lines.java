package org.solarmargin.cli.format;

import java.io.PrintWriter;
import java.util.Locale;

/** Text for people, line by line: formatted the same everywhere, with no blanks at the end. */
public final class Lines {

  private static final String RULE = "-".repeat(78);

  private final PrintWriter out;

  /**
   * Lines to a writer.
   *
   * @param out standard output
   */
  public Lines(PrintWriter out) {
    this.out = out;
  }

  /**
   * A formatted line.
   *
   * @param format of Java's formatter
   * @param values its values
   */
  public void line(String format, Object... values) {
    out.println(String.format(Locale.ROOT, format, values).stripTrailing());
  }

  /**
   * A line as it is.
   *
   * @param text taken literally
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

  /** Sends on what is held back. */
  public void flush() {
    out.flush();
  }
}
