package org.solarmargin.cli.watch;

import java.io.IOException;
import java.io.InputStream;
import java.util.function.Consumer;
import org.solarmargin.cli.live.QueuedSource;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.mavlink.Row;

/** Reads the lines of a log as they arrive, CSV or JSON. */
final class TextReader implements QueuedSource.Reader {

  private static final double NANOS = 1e9;

  /** Number of rows in a row above it that are not a glitch: engineering judgement. */
  private static final int ROWS_ABOVE = 10;

  private final InputStream in;
  private final String name;
  private final ColumnMap columns;
  private final Consumer<String> notes;
  private LogReader reader;
  private boolean noted;
  private int above;

  /**
   * Creates a reader.
   *
   * @param notes receives what was recognised in the header and the first line, and that the
   *     throttle needs a unit
   */
  TextReader(String name, InputStream in, ColumnMap columns, Consumer<String> notes) {
    this.name = name;
    this.in = in;
    this.columns = columns;
    this.notes = notes;
  }

  @Override
  public Row next() throws IOException {
    if (reader == null) {
      reader = LogReader.live(name, in, columns);
    }
    while (reader.next()) {
      judgeThrottle(reader.value(Column.THROTTLE));
      double time = reader.value(Column.TIME);
      if (!Double.isNaN(time)) {
        note();
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

  private void note() {
    if (!noted) {
      noted = true;
      reader.notes().forEach(note -> notes.accept(name + ": " + note));
    }
  }

  private void judgeThrottle(double throttle) {
    if (above >= ROWS_ABOVE || Double.isNaN(throttle)) {
      return;
    }
    above = throttle > LogReader.HIGHEST_FRACTION ? above + 1 : 0;
    if (above == ROWS_ABOVE) {
      notes.accept(
          name
              + ": throttle is outside 0 to 1: "
              + throttle
              + ": state its unit with --column throttle=HEADER:UNIT, UNIT being pct, permille or us");
    }
  }

  @Override
  public void close() throws IOException {
    in.close();
  }
}
