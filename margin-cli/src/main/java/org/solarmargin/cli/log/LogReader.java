package org.solarmargin.cli.log;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import org.solarmargin.cli.InputFault;
import org.solarmargin.cli.text.CsvText;
import org.solarmargin.cli.text.LineFaults;
import org.solarmargin.cli.text.Printable;
import org.solarmargin.cli.text.QuoteGuard;

/**
 * Reads a flight log one line at a time, in constant memory. {@link #next()} moves to a line; the
 * getters then describe it.
 *
 * <p>An empty field, or {@code nan} in any case, is an absent reading: NaN. Text that is no number,
 * and a line with too few fields, end the reading with an {@link InputFault}; as the very last line
 * they are taken for a log cut short by a power loss, and only counted. Quotes that do not pair up
 * within their line are apostrophes. A line that cannot be read for them, those behind it that
 * cannot be read either, and a line that is too long have no values: refused, and the log goes on.
 */
public final class LogReader implements AutoCloseable {

  private static final Column[] NUMBERS = {
    Column.TIME, Column.VOLTS, Column.AMPS, Column.THROTTLE, Column.CELL, Column.HEIGHT
  };

  /** Characters of a header that a message shows. */
  private static final int LONGEST_HEADER = 300;

  private final String name;
  private final ColumnMap columns;
  private final CountingStream stream;
  private final QuoteGuard quotes;
  private final CsvReader<CsvRecord> csv;
  private final Iterator<CsvRecord> records;
  private final int[] places = new int[Column.values().length];
  private final double[] values = new double[Column.values().length];
  private final int widthNeeded;

  private CsvRecord record;
  private CsvRecord ahead;
  private int cutLines;
  private double statedTime;
  private boolean refused;
  private boolean behindFault;
  private long refusedLines;
  private long firstRefused;

  /**
   * Opens a log and reads its header.
   *
   * @param file the log
   * @param columns which header stands for what
   * @throws InputFault if there is no such file, or the header lacks a required column
   */
  public LogReader(Path file, ColumnMap columns) {
    this(file.toString(), CsvText.open(file, "the log file itself"), columns);
  }

  /**
   * Reads a log from a stream.
   *
   * @param name for messages
   * @param stream the log, UTF-8; closed with this reader
   * @param columns which header stands for what
   * @throws InputFault if the header lacks a required column
   */
  public LogReader(String name, InputStream stream, ColumnMap columns) {
    this.name = name;
    this.columns = columns;
    this.stream = new CountingStream(stream);
    quotes = new QuoteGuard(this.stream);
    csv = CsvText.reader(quotes);
    records = csv.iterator();
    CsvRecord header = pull();
    if (header == null) {
      throw new InputFault(name + ": empty: a log needs a header line and samples");
    }
    if (quotes.faults().has(header.getStartingLineNumber())
        && header.getField(0).startsWith(QuoteGuard.OVERLONG)) {
      throw new InputFault(
          name + " " + quotes.faults().sentences().get(0) + ": give a flight log, CSV");
    }
    widthNeeded = place(header);
    ahead = pull();
  }

  private int place(CsvRecord header) {
    Arrays.fill(places, -1);
    List<String> names = header.getFields().stream().map(String::strip).toList();
    int width = 0;
    for (Column column : Column.values()) {
      int place = CsvText.place(name, header, columns.header(column));
      places[column.ordinal()] = place;
      if (place < 0 && column.required()) {
        throw new InputFault(
            name
                + " line "
                + header.getStartingLineNumber()
                + ": no column "
                + columns.header(column)
                + ": the header has "
                + Printable.brief(String.join(", ", names), LONGEST_HEADER)
                + "; name it with --column "
                + column.word()
                + "=HEADER[:UNIT]");
      }
      if (column.required()) {
        width = Math.max(width, place + 1);
      }
    }
    return width;
  }

  private CsvRecord pull() {
    try {
      return records.hasNext() ? records.next() : null;
    } catch (CsvParseException | UncheckedIOException e) {
      throw CsvText.fault(name, e);
    }
  }

  /**
   * Moves to the next line.
   *
   * @return false at the end
   * @throws InputFault if a line other than the last cannot be read
   */
  public boolean next() {
    record = ahead;
    if (record == null) {
      return false;
    }
    ahead = pull();
    boolean faulty = quotes.faults().has(line());
    try {
      read();
      refused = false;
      statedTime = value(Column.TIME);
    } catch (InputFault fault) {
      if (ahead == null) {
        cutLines++;
        return false;
      }
      if (!faulty && !behindFault) {
        throw fault;
      }
      refuse();
    }
    behindFault = faulty || refused;
    return true;
  }

  /** The line has no values; its time, where it can be read, is but told. */
  private void refuse() {
    refused = true;
    refusedLines++;
    firstRefused = refusedLines == 1 ? line() : firstRefused;
    statedTime = Double.NaN;
    if (record.getFieldCount() >= widthNeeded) {
      try {
        statedTime = number(Column.TIME);
      } catch (InputFault fault) {
        statedTime = Double.NaN; // its time cannot be read either
      }
    }
    Arrays.fill(values, Double.NaN);
  }

  private void read() {
    if (record.getFieldCount() < widthNeeded) {
      throw fault(
          "a line must have at least " + widthNeeded + " fields", "" + record.getFieldCount());
    }
    for (Column column : NUMBERS) {
      values[column.ordinal()] = number(column);
    }
  }

  private double number(Column column) {
    int place = places[column.ordinal()];
    if (place < 0 || place >= record.getFieldCount()) {
      return Double.NaN;
    }
    String text = record.getField(place);
    if (CsvText.absent(text)) {
      return Double.NaN;
    }
    try {
      return columns.convert(column, CsvText.number(text));
    } catch (NumberFormatException e) {
      throw fault(columns.header(column) + " must be a number or empty", text);
    }
  }

  private InputFault fault(String rule, String value) {
    return InputFault.ofLine(name, record.getStartingLineNumber(), rule, value);
  }

  /**
   * The value of a quantity in this line, in the log format's unit.
   *
   * @param column any but EVENT
   * @return NaN if unknown
   */
  public double value(Column column) {
    return values[column.ordinal()];
  }

  /**
   * The time as text that reads back as the log's own number.
   *
   * @return the log's own text where its unit is the second; empty where the time is absent
   */
  public String timeText() {
    if (Double.isNaN(statedTime)) {
      return "";
    }
    return columns.plain(Column.TIME)
        ? record.getField(places[Column.TIME.ordinal()]).strip()
        : Double.toString(statedTime);
  }

  /**
   * The flyer's mark in this line.
   *
   * @return fit to print; empty if none
   */
  public String event() {
    int place = places[Column.EVENT.ordinal()];
    boolean none = refused || place < 0 || place >= record.getFieldCount();
    return none ? "" : Printable.of(record.getField(place).strip());
  }

  /**
   * Roughly how far in the file the reader is.
   *
   * @return bytes taken from the stream
   */
  public long bytesRead() {
    return stream.count();
  }

  /**
   * Line in the file, 1 is the first.
   *
   * @return line number
   */
  public long line() {
    return record.getStartingLineNumber();
  }

  /**
   * What was wrong with lines that were read or left out nevertheless.
   *
   * @return a sentence each; complete once the log is read
   */
  public List<String> faults() {
    List<String> faults = new ArrayList<>(quotes.faults().sentences());
    if (refusedLines > 0) {
      faults.add(
          LineFaults.sentence(firstRefused, refusedLines, "cannot be read for it") + ": refused");
    }
    if (cutLines > 0) {
      faults.add("the last line is cut short and was left out");
    }
    return faults;
  }

  /**
   * Name for messages.
   *
   * @return as given
   */
  public String name() {
    return name;
  }

  @Override
  public void close() throws IOException {
    csv.close();
    stream.close();
  }
}
