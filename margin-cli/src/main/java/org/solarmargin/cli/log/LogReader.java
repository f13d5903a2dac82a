package org.solarmargin.cli.log;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import org.solarmargin.cli.csv.CsvText;
import org.solarmargin.cli.csv.LineFaults;
import org.solarmargin.cli.csv.QuoteGuard;
import org.solarmargin.cli.file.CountingStream;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Printable;

/**
 * Reads a flight log one line at a time, in constant memory. {@link #next()} moves to a line; the
 * getters then describe it.
 *
 * <p>An empty field, or {@code nan} in any case, is an absent reading: NaN. A line with text that
 * is not a number, with too few fields, or that is too long is damaged: it is refused, and reading
 * continues; more than one such line in a hundred ends the reading with an {@link InputFault}. If
 * it is the very last line, the log is taken to have been cut short by a power loss, and the line
 * is only counted. Unbalanced quotes are read as apostrophes, and lines that are unreadable because
 * of them do not count as damaged.
 *
 * <p>Separators, decimal commas, names in another case, units in brackets, clock times, dates and
 * the unit of a throttle are recognised and reported by {@link #notes()}.
 */
public final class LogReader implements AutoCloseable {

  /** Longest mark that is kept, characters: engineering judgement. */
  private static final int LONGEST_EVENT = 200;

  private static final Column[] NUMBERS = {
    Column.TIME, Column.VOLTS, Column.AMPS, Column.THROTTLE, Column.CELL, Column.HEIGHT
  };

  /** The highest throttle that is plausible as a fraction. */
  public static final double HIGHEST_FRACTION = ThrottleScale.FRACTION;

  /**
   * One damaged line per this many lines is tolerated; while the log is being read, this many more
   * are: engineering judgement.
   */
  private static final int DAMAGED_IN = 100;

  private final String name;
  private final ColumnMap columns;
  private final InputStream stream;
  private long bytesRead;
  private final QuoteGuard quotes;
  private final CsvReader<CsvRecord> csv;
  private final Iterator<CsvRecord> records;
  private final Source[] sources = new Source[Column.values().length];
  private final TimeForm time;
  private final List<String> notes = new ArrayList<>();
  private final double[] values = new double[Column.values().length];
  private final CsvRecord header;
  private final int widthNeeded;

  private CsvRecord record;
  private CsvRecord ahead;
  private boolean looked;
  private int cutLines;
  private double statedTime;
  private boolean refused;
  private boolean afterFault;
  private long refusedLines;
  private long lines;
  private long damagedLines;
  private InputFault firstDamage;
  private long firstRefused;

  /**
   * Opens a log and reads its header.
   *
   * @param file the log
   * @param columns mapping of header names
   * @throws InputFault if there is no such file, or the header lacks a required column
   */
  public LogReader(Path file, ColumnMap columns) {
    // a pipe can be read only once
    this(file, columns, Files.isRegularFile(file) ? ThrottleScale.of(file, columns) : "1");
  }

  private LogReader(Path file, ColumnMap columns, String throttleUnit) {
    this(file.toString(), LogFormats.open(file, columns), columns, throttleUnit);
  }

  /** A reader that treats a throttle column without a stated unit as a fraction. */
  static LogReader unscaled(Path file, ColumnMap columns) {
    return new LogReader(file, columns, "1");
  }

  /**
   * Reads a log from a stream.
   *
   * @param name for messages
   * @param stream the log, UTF-8; closed with this reader
   * @param columns mapping of header names
   * @throws InputFault if the header lacks a required column
   */
  public LogReader(String name, InputStream stream, ColumnMap columns) {
    this(name, stream, columns, "1");
  }

  private LogReader(String name, InputStream stream, ColumnMap columns, String throttleUnit) {
    this.name = name;
    this.columns = columns;
    this.stream = new CountingStream(stream, count -> bytesRead += count);
    quotes = new QuoteGuard(this.stream);
    csv = CsvText.reader(quotes);
    records = csv.iterator();
    header = pull();
    if (header == null) {
      throw new InputFault(name + ": empty: a log needs a header line and samples");
    }
    if (quotes.faults().has(header.getStartingLineNumber())
        && header.getField(0).startsWith(QuoteGuard.OVERLONG)) {
      throw new InputFault(
          name + " " + quotes.faults().sentences().get(0) + ": give a flight log, CSV");
    }
    Header found = new Header(name, header, columns);
    for (Column column : Column.values()) {
      sources[column.ordinal()] = found.source(column);
    }
    widthNeeded = found.width();
    notes.addAll(LogFormats.notes(stream));
    notes.addAll(found.notes());
    scaleThrottle(throttleUnit);
    Source stamps = source(Column.TIME);
    boolean own = header.getField(stamps.place()).strip().equals(Column.TIME.word());
    time = new TimeForm(stamps, !own && !stamps.unitStated());
  }

  /**
   * Reads a log that is still being written, CSV with any separator or JSON lines; each line is
   * available as soon as it is complete. A throttle without a stated unit is taken as a fraction,
   * because its range is not known before the log ends.
   *
   * @param name for messages
   * @param stream the log, UTF-8; closed with this reader
   * @param columns mapping of header names
   * @return the reader
   * @throws InputFault if the header lacks a required column, or the stream cannot be read
   */
  public static LogReader live(String name, InputStream stream, ColumnMap columns) {
    try {
      return new LogReader(name, LogFormats.live(stream, columns), columns);
    } catch (IOException e) {
      throw new InputFault(name + ": cannot be read: " + e.getMessage());
    }
  }

  private void scaleThrottle(String unit) {
    Source throttle = source(Column.THROTTLE);
    if (!throttle.unitStated() && !unit.equals("1")) {
      sources[Column.THROTTLE.ordinal()] = Source.of(Column.THROTTLE, throttle.place(), unit);
      notes.add(
          switch (unit) {
            case "pct" -> "throttle is in percent, by its range";
            case "permille" -> "throttle is in permille, by its range";
            default -> "throttle is a pulse width of 1000 to 2000 us, by its range";
          });
    }
  }

  private Source source(Column column) {
    return sources[column.ordinal()];
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
    record = looked ? ahead : pull();
    looked = false;
    if (record == null) {
      requireFewDamaged(0);
      return false;
    }
    lines++;
    boolean faulty = quotes.faults().has(line());
    try {
      read();
      refused = false;
      statedTime = value(Column.TIME);
    } catch (InputFault fault) {
      ahead = pull();
      looked = true;
      if (ahead == null) {
        cutLines++;
        requireFewDamaged(0);
        return false;
      }
      if (!faulty && !afterFault) {
        damaged(fault);
      }
      refuse(faulty || afterFault);
    }
    afterFault = faulty || (afterFault && refused);
    return true;
  }

  private void damaged(InputFault fault) {
    firstDamage = damagedLines == 0 ? fault : firstDamage;
    damagedLines++;
    requireFewDamaged(DAMAGED_IN);
  }

  /** Ends the reading if more lines are damaged than tolerated, plus an allowance. */
  private void requireFewDamaged(int more) {
    if (damagedLines > lines / DAMAGED_IN + more) {
      throw damagedLines == 1
          ? firstDamage
          : new InputFault(
              firstDamage.getMessage() + " (the first of " + damagedLines + " such lines)");
    }
  }

  /** Clears the values of the line; its time, if readable, is kept for output. */
  private void refuse(boolean forQuotes) {
    refused = true;
    if (forQuotes) {
      refusedLines++;
      firstRefused = refusedLines == 1 ? line() : firstRefused;
    }
    statedTime = Double.NaN;
    if (record.getFieldCount() >= widthNeeded) {
      try {
        statedTime = number(Column.TIME);
      } catch (InputFault fault) {
        statedTime = Double.NaN; // its time is unreadable too
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
    int place = source(column).place();
    if (place < 0 || place >= record.getFieldCount()) {
      return Double.NaN;
    }
    String text = record.getField(place);
    if (CsvText.absent(text)) {
      return Double.NaN;
    }
    try {
      return column == Column.TIME
          ? time.parse(text)
          : source(column).convert(CsvText.number(text));
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
    return time.plain()
        ? record.getField(source(Column.TIME).place()).strip()
        : Double.toString(statedTime);
  }

  /**
   * The instant of the first line, where its time is a date with a time or counts from 1970.
   *
   * @return empty where the log does not say; complete once the first line is read
   */
  public Optional<Instant> startInstant() {
    return time.start();
  }

  /**
   * The pilot's mark in this line.
   *
   * @return safe to print, shortened if it is very long; empty if there is none
   */
  public String event() {
    int place = source(Column.EVENT).place();
    boolean none = refused || place < 0 || place >= record.getFieldCount();
    return none ? "" : Printable.brief(record.getField(place).strip(), LONGEST_EVENT);
  }

  /**
   * Approximate position in the file.
   *
   * @return bytes read from the stream
   */
  public long bytesRead() {
    return bytesRead;
  }

  /**
   * Number of the line in the file, from 1.
   *
   * @return line number
   */
  public long line() {
    return record.getStartingLineNumber();
  }

  /**
   * Faults of lines that were tolerated.
   *
   * @return one sentence each; complete once the log is read
   */
  public List<String> faults() {
    List<String> faults = new ArrayList<>(quotes.faults().sentences());
    if (refusedLines > 0) {
      faults.add(
          LineFaults.sentence(firstRefused, refusedLines, "is unreadable for that reason")
              + ": refused");
    }
    if (damagedLines > 0) {
      String others = damagedLines == 1 ? "" : " (the first of " + damagedLines + " damaged lines)";
      faults.add("left out: " + firstDamage.getMessage() + others);
    }
    if (cutLines > 0) {
      faults.add("the last line is cut short and was left out");
    }
    return faults;
  }

  /**
   * What was recognised without a mapping.
   *
   * @return one sentence each, without full stop; complete once the first line is read
   */
  public List<String> notes() {
    List<String> all = new ArrayList<>(notes);
    if (!time.words().isEmpty()) {
      all.add(time.words());
    }
    return all;
  }

  /**
   * The option that states another unit of a column.
   *
   * @param column the column
   * @param unit its unit
   * @return the option as it is typed; empty if the log has no such column, or its unit is stated
   */
  public Optional<String> unitOption(Column column, String unit) {
    Source source = source(column);
    if (source.place() < 0 || source.unitStated()) {
      return Optional.empty();
    }
    String mapping =
        column.word() + "=" + Printable.of(header.getField(source.place()).strip()) + ":" + unit;
    return Optional.of("--column " + (mapping.matches("[\\w.:=-]+") ? mapping : quoted(mapping)));
  }

  private static String quoted(String mapping) {
    return '"' + mapping + '"';
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
