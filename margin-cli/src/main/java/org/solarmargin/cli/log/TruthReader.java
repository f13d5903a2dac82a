package org.solarmargin.cli.log;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.Iterator;
import java.util.List;
import org.solarmargin.cli.csv.CsvText;
import org.solarmargin.cli.csv.QuoteGuard;
import org.solarmargin.cli.file.InputFault;

/** Reads the truth of a simulated flight, which has one line for each line of its log. */
public final class TruthReader implements AutoCloseable {

  private final Path file;
  private final QuoteGuard quotes;
  private final CsvReader<CsvRecord> csv;
  private final Iterator<CsvRecord> records;
  private final int[] places;
  private CsvRecord record;

  /**
   * Opens a truth file.
   *
   * @param file truth written by {@code simulate}
   * @param columns names of the columns to read
   */
  public TruthReader(Path file, List<String> columns) {
    this.file = file;
    quotes = new QuoteGuard(CsvText.open(file, "the log's own truth"));
    csv = CsvText.reader(quotes);
    records = csv.iterator();
    if (!more()) {
      throw new InputFault(file + ": empty: a truth file needs a header line");
    }
    CsvRecord header = records.next();
    places =
        columns.stream().mapToInt(name -> CsvText.place(file.toString(), header, name)).toArray();
    for (int i = 0; i < places.length; i++) {
      if (places[i] < 0) {
        throw new InputFault(file + " line 1: no column " + columns.get(i) + " in the truth file");
      }
    }
  }

  private boolean more() {
    try {
      return records.hasNext();
    } catch (CsvParseException | UncheckedIOException e) {
      throw CsvText.fault(file.toString(), e);
    }
  }

  /** Moves to the next line; call once for each line of the log. */
  public void next() {
    if (!more()) {
      throw new InputFault(
          file + ": shorter than its log: it must have one line for each line of the log");
    }
    record = records.next();
    if (quotes.faults().has(record.getStartingLineNumber())) {
      throw fault("a line must consist of numbers, as written by simulate", record.getField(0));
    }
  }

  /**
   * A value of this line.
   *
   * @param column index in the list of columns
   * @return NaN if empty
   */
  public double value(int column) {
    int place = places[column];
    if (place >= record.getFieldCount()) {
      throw fault(
          "a line must have at least " + (place + 1) + " fields", "" + record.getFieldCount());
    }
    String text = record.getField(place);
    try {
      return CsvText.absent(text) ? Double.NaN : CsvText.number(text);
    } catch (NumberFormatException e) {
      throw fault("must be a number or empty", text);
    }
  }

  private InputFault fault(String rule, String value) {
    return InputFault.ofLine(file.toString(), record.getStartingLineNumber(), rule, value);
  }

  @Override
  public void close() throws IOException {
    csv.close();
  }
}
