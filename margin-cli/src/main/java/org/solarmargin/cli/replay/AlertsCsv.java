package org.solarmargin.cli.replay;

import java.io.IOException;
import java.io.Writer;
import org.solarmargin.cli.format.Decimals;

/** Writes one line for each alert raised or cleared. */
final class AlertsCsv {

  private static final String HEADER = "time_s,level,state,reason,margin_low_pct,time_to_zero_s\n";

  private final Writer writer;

  AlertsCsv(Writer writer) throws IOException {
    this.writer = writer;
    writer.write(HEADER);
  }

  void write(AlertEvent event) throws IOException {
    StringBuilder line = new StringBuilder(96);
    line.append(event.timeText()).append(',').append(event.level()).append(',');
    line.append(event.raised() ? "RAISED" : "CLEARED").append(',');
    line.append(event.reason()).append(',');
    Decimals.append(line, event.marginLowPercent(), 1);
    line.append(',');
    Decimals.append(line, event.secondsToZero(), 1);
    writer.append(line.append('\n'));
  }
}
