package org.solarmargin.cli.watch;

import java.io.PrintWriter;
import java.util.Locale;
import org.solarmargin.cli.format.TerminalText;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.core.alert.AlertLevel;

/**
 * The standard output of a watch: on a terminal one line that is updated, with alerts above it;
 * otherwise lines of text, or of JSON for programs. Problems are reported on standard error.
 */
final class WatchDisplay {

  private static final double SHOWN_EVERY = 0.2;
  private static final double PLAIN_EVERY = 1;

  private final PrintWriter out;
  private final PrintWriter err;
  private final boolean json;
  private final boolean bell;
  private final boolean terminal;
  private double shown = Double.NEGATIVE_INFINITY;
  private Figures.Kind kind;

  /**
   * Creates the display.
   *
   * @param json whether to print JSON for programs
   * @param bell whether WARNING rings the terminal's bell
   * @param person whether a person reads a terminal
   */
  WatchDisplay(PrintWriter out, PrintWriter err, boolean json, boolean bell, boolean person) {
    this.out = out;
    this.err = err;
    this.json = json;
    this.bell = bell;
    terminal = person && !json;
  }

  /** Prints a line on standard error; nothing if it is empty. */
  void report(String line) {
    if (!line.isEmpty()) {
      if (terminal) {
        out.print(TerminalText.CLEAR_LINE);
        out.flush();
      }
      err.println("margin: " + line);
      err.flush();
    }
  }

  /** Prints an alert. */
  void show(LiveFeed.Alert alert) {
    if (json) {
      out.println(AlertJson.of(alert));
      out.flush();
      return;
    }
    out.println(
        String.format(
            Locale.ROOT,
            "%s%8.1f s  %s %s: %s",
            terminal ? TerminalText.CLEAR_LINE : "",
            alert.seconds(),
            alert.raised() ? ">>>" : "   ",
            alert.level() + (alert.raised() ? "" : " cleared"),
            alert.reason().words()));
    if (bell && terminal && alert.raised() && alert.level() == AlertLevel.WARNING) {
      out.print(TerminalText.BELL);
    }
    out.flush();
  }

  /** Prints the figures, at most a few times a second, but at once when their kind changes. */
  void show(Figures figures, double local) {
    if (figures.kind() == kind && local - shown < (terminal || json ? SHOWN_EVERY : PLAIN_EVERY)) {
      return;
    }
    kind = figures.kind();
    shown = local;
    if (json) {
      out.println(figures.json());
    } else if (terminal) {
      // wider than a phone's terminal it would not stay one line
      out.print(
          TerminalText.CLEAR_LINE + TerminalText.CUT + figures.shortLine() + TerminalText.WRAP);
    } else {
      out.println(figures.line());
    }
    out.flush();
  }

  /** Ends the updated line. */
  void end() {
    if (terminal) {
      out.println();
    }
    out.flush();
  }
}
