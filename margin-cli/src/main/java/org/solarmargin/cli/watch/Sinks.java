package org.solarmargin.cli.watch;

import java.io.Closeable;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.core.monitor.MarginMonitor;

/**
 * The outputs of a watch besides the terminal; any of them may be null. A failure is reported in
 * one line, and the watch continues.
 */
final class Sinks implements Closeable {

  private static final double PAGE_EVERY = 0.2;

  private final Reply reply;
  private final LivePage page;
  private final Consumer<String> lines;
  private final List<LiveFeed.Alert> unseen = new ArrayList<>();
  private final FlightSplit split;
  private FlightLog file;
  private StateFile state;
  private boolean replyFailed;
  private boolean outputLost;
  private double shown = Double.NEGATIVE_INFINITY;

  /**
   * Creates the outputs.
   *
   * @param split null if all flights go to one log
   * @param lines receives messages about failures
   */
  Sinks(
      FlightLog file,
      FlightSplit split,
      Reply reply,
      LivePage page,
      StateFile state,
      Consumer<String> lines) {
    this.file = file;
    this.split = split;
    this.reply = reply;
    this.page = page;
    this.state = state;
    this.lines = lines;
  }

  /**
   * Passes the current data to all outputs.
   *
   * @param row the processed row; null if there was none
   * @param clockRestarts number of clock restarts so far
   */
  void take(
      Row row,
      Figures figures,
      List<LiveFeed.Alert> alerts,
      MarginMonitor monitor,
      long clockRestarts,
      double local) {
    if (row != null && file != null) {
      log(row, figures, alerts, monitor.airborne(), clockRestarts, local);
    }
    if (row != null && state != null && !figures.noData()) {
      save(monitor, local);
    }
    if (reply != null) {
      answer(figures, alerts, local);
    }
    unseen.addAll(alerts);
    if (page != null && local - shown >= PAGE_EVERY) {
      shown = local;
      page.send(figures, unseen);
      unseen.clear();
    }
  }

  private void log(
      Row row,
      Figures figures,
      List<LiveFeed.Alert> alerts,
      boolean airborne,
      long clockRestarts,
      double local) {
    try {
      if (split != null && split.begins(row.nanos() * 1e-9, airborne, clockRestarts)) {
        lines.accept("A new flight: the log continues in " + file.nextFile());
      }
      file.write(row, figures, alerts, local);
    } catch (IOException e) {
      reportLoss(e);
      file = null;
    }
  }

  /** Forces buffered lines to the disk. */
  void finish() {
    if (file != null) {
      try {
        file.sync();
      } catch (IOException e) {
        reportLoss(e);
        file = null;
      }
    }
  }

  /**
   * Reports a failed output and continues, because the pilot needs the reading more than log or
   * state.
   */
  private void reportLoss(IOException fault) {
    lines.accept(fault.getMessage() + ", the watch continues");
    outputLost = true;
  }

  /** Whether log or state could not be written completely. */
  boolean outputLost() {
    return outputLost;
  }

  private void save(MarginMonitor monitor, double local) {
    try {
      state.save(monitor, local, System.currentTimeMillis());
    } catch (IOException e) {
      reportLoss(e);
      state = null;
    }
  }

  private void answer(Figures figures, List<LiveFeed.Alert> alerts, double local) {
    try {
      for (LiveFeed.Alert alert : alerts) {
        reply.alert(alert);
      }
      reply.figures(figures, local);
      replyFailed = false;
    } catch (IOException e) {
      if (!replyFailed) {
        lines.accept("--reply: cannot be sent: " + e.getMessage() + "; retrying");
      }
      replyFailed = true;
    }
  }

  @Override
  public void close() throws IOException {
    if (file != null) {
      file.close();
    }
    if (reply != null) {
      reply.close();
    }
    if (page != null) {
      page.close();
    }
  }
}
