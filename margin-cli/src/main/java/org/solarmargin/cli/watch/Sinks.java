package org.solarmargin.cli.watch;

import java.io.IOException;
import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.OutputFault;
import org.solarmargin.cli.mavlink.Row;

/** Where a watch goes beside the terminal; any of them may be null. */
final class Sinks {

  private static final double PAGE_EVERY = 0.2;

  private FlightLog file;
  private final PrintWriter err;
  private final Reply reply;
  private final LivePage page;
  private final List<LiveFeed.Alert> unseen = new ArrayList<>();
  private boolean logLost;
  private double shown = Double.NEGATIVE_INFINITY;

  Sinks(FlightLog file, PrintWriter err, Reply reply, LivePage page) {
    this.file = file;
    this.err = err;
    this.reply = reply;
    this.page = page;
  }

  /** Takes a row and what was made of it. */
  void take(Row row, Figures figures, List<LiveFeed.Alert> alerts, double local)
      throws IOException {
    if (file != null) {
      try {
        file.write(row, figures, alerts, local);
      } catch (OutputFault e) {
        loseLog(e);
      }
    }
    if (reply != null) {
      for (LiveFeed.Alert alert : alerts) {
        reply.alert(alert);
      }
      reply.figures(figures, local);
    }
    unseen.addAll(alerts);
    if (page != null && local - shown >= PAGE_EVERY) {
      shown = local;
      page.send(figures, unseen);
      unseen.clear();
    }
  }

  /** Has what is held back on the disk. */
  void finish() throws IOException {
    if (file != null) {
      try {
        file.sync();
      } catch (OutputFault e) {
        loseLog(e);
      }
    }
  }

  /** A flyer needs the reading more than the log. */
  private void loseLog(OutputFault fault) {
    err.println(fault.getMessage() + ", the watch goes on");
    err.flush();
    logLost = true;
    file = null;
  }

  /** Whether the log could not be written to its end. */
  boolean logLost() {
    return logLost;
  }
}
