package org.solarmargin.cli.watch;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.mavlink.Row;

/** Where a watch goes beside the terminal; any of them may be null. */
final class Sinks {

  private static final double PAGE_EVERY = 0.2;

  private final FlightLog file;
  private final Reply reply;
  private final LivePage page;
  private final List<LiveFeed.Alert> unseen = new ArrayList<>();
  private double shown = Double.NEGATIVE_INFINITY;

  Sinks(FlightLog file, Reply reply, LivePage page) {
    this.file = file;
    this.reply = reply;
    this.page = page;
  }

  /** Takes a row and what was made of it. */
  void take(Row row, Figures figures, List<LiveFeed.Alert> alerts, double local)
      throws IOException {
    if (file != null) {
      file.write(row, figures, alerts, local);
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
}
