package org.solarmargin.cli.watch;

import java.io.IOException;
import java.io.InputStream;
import org.solarmargin.cli.live.QueuedSource;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.mavlink.Row;

/** Reads the lines of a log as they arrive, CSV or JSON. */
final class TextReader implements QueuedSource.Reader {

  private static final double NANOS = 1e9;

  private final InputStream in;
  private final String name;
  private final ColumnMap columns;
  private LogReader reader;

  TextReader(String name, InputStream in, ColumnMap columns) {
    this.name = name;
    this.in = in;
    this.columns = columns;
  }

  @Override
  public Row next() throws IOException {
    if (reader == null) {
      reader = LogReader.live(name, in, columns);
    }
    while (reader.next()) {
      double time = reader.value(Column.TIME);
      if (!Double.isNaN(time)) {
        return new Row(
            Math.round(time * NANOS),
            reader.value(Column.VOLTS),
            reader.value(Column.AMPS),
            reader.value(Column.THROTTLE),
            reader.value(Column.CELL));
      }
    }
    return null;
  }

  @Override
  public void close() throws IOException {
    in.close();
  }
}
