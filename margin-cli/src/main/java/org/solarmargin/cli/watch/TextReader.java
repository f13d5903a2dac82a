package org.solarmargin.cli.watch;

import java.io.IOException;
import java.io.InputStream;
import java.util.function.Consumer;
import org.solarmargin.cli.live.QueuedSource;
import org.solarmargin.cli.log.Column;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.cli.playback.UnitAdvice;

/** Reads the lines of a log as they arrive, CSV or JSON. */
final class TextReader implements QueuedSource.Reader {

  private static final double NANOS = 1e9;

  /** Number of rows in a row above it that are not a glitch: engineering judgement. */
  private static final int ROWS_ABOVE = 10;

  /** Number of rows after which the units of voltage and current are judged, and again as often. */
  private static final int ROWS_JUDGED = 50;

  private final InputStream in;
  private final String name;
  private final ColumnMap columns;
  private final UnitAdvice units;
  private final Consumer<String> notes;
  private LogReader reader;
  private boolean noted;
  private int above;
  private int rows;
  private boolean advised;

  /**
   * Creates a reader.
   *
   * @param units judges the units of voltage and current
   * @param notes receives what was recognised in the header and the first line, and which column
   *     needs a unit
   */
  TextReader(
      String name, InputStream in, ColumnMap columns, UnitAdvice units, Consumer<String> notes) {
    this.name = name;
    this.in = in;
    this.columns = columns;
    this.units = units;
    this.notes = notes;
  }

  @Override
  public Row next() throws IOException {
    if (reader == null) {
      reader = LogReader.live(name, in, columns);
    }
    while (reader.next()) {
      judgeThrottle(reader.value(Column.THROTTLE));
      judgeReadings();
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

  private void judgeReadings() {
    units.take(
        Double.NaN,
        reader.value(Column.VOLTS),
        reader.value(Column.AMPS),
        reader.value(Column.THROTTLE));
    rows++;
    if (!advised && rows % ROWS_JUDGED == 0) {
      units
          .readings(reader)
          .ifPresent(
              words -> {
                advised = true;
                notes.accept(name + ": " + words);
              });
    }
  }

  @Override
  public void close() throws IOException {
    in.close();
  }
}
