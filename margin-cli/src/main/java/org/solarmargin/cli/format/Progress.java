package org.solarmargin.cli.format;

import java.io.PrintWriter;
import java.io.Writer;
import picocli.CommandLine;

/** A progress line on standard error, drawn only on an interactive terminal. */
public final class Progress implements AutoCloseable {

  /** Characters that clear a progress line. */
  public static final String CLEARED = "\r" + " ".repeat(79) + "\r";

  private static final int EVERY = 1 << 16;
  private static final int BAR = 30;
  private static final double LEAST_SECONDS = 2;
  private static final String PADDING = " ".repeat(30);

  private final PrintWriter err;
  private final boolean shown;
  private final String label;
  private final double total;
  private final long startNanos = System.nanoTime();
  private long calls;
  private boolean drawn;
  private boolean kept;

  /**
   * A progress line.
   *
   * @param err standard error
   * @param shown whether to draw at all
   * @param label name of the work
   * @param total total amount; 0 or less if unknown
   */
  public Progress(PrintWriter err, boolean shown, String label, double total) {
    this.err = err;
    this.shown = shown;
    this.label = label;
    this.total = total;
  }

  /**
   * A progress line for non-interactive use.
   *
   * @return a line that is never drawn
   */
  public static Progress none() {
    return new Progress(new PrintWriter(Writer.nullWriter()), false, "", 0);
  }

  /**
   * Whether the output is an interactive terminal.
   *
   * @return true if picocli detects a console with ANSI support
   */
  public static boolean terminal() {
    return CommandLine.Help.Ansi.AUTO.enabled();
  }

  /**
   * Whether {@link #step} should be called now; this saves the caller the cost of computing the
   * amount each time.
   *
   * @return true once in 65536 calls
   */
  public boolean due() {
    return shown && (++calls & (EVERY - 1)) == 0;
  }

  /**
   * Draws the amount done.
   *
   * @param done between 0 and the total
   */
  public void step(double done) {
    if (!shown) {
      return;
    }
    drawn = true;
    StringBuilder line = new StringBuilder("\r").append(label).append(' ');
    if (total > 0) {
      int filled = (int) Math.round(BAR * Math.min(done / total, 1));
      line.append('[').append("#".repeat(filled)).append(".".repeat(BAR - filled)).append("] ");
      line.append(Math.round(100 * Math.min(done / total, 1))).append(" %");
      line.append(left(done));
    } else {
      line.append(Math.round(done));
    }
    err.print(line);
    err.flush();
  }

  /** Estimated remaining time at the rate so far; blank during the first seconds. */
  private String left(double done) {
    double spent = (System.nanoTime() - startNanos) * 1e-9;
    if (spent < LEAST_SECONDS || done <= 0 || done >= total) {
      return PADDING;
    }
    String words = ", about " + Clock.minutes(spent * (total - done) / done) + " min:s left";
    return words + PADDING.substring(Math.min(words.length(), PADDING.length()));
  }

  /** Keeps the line on the screen when closed, because the work was stopped. */
  public void keep() {
    kept = true;
  }

  @Override
  public void close() {
    if (drawn && kept) {
      err.println();
      err.flush();
    } else if (drawn) {
      err.print(CLEARED);
      err.flush();
    }
  }
}
