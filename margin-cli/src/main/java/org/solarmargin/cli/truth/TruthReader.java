package org.solarmargin.cli.truth;

import ch.randelshofer.fastdoubleparser.JavaDoubleParser;
import de.siegmar.fastcsv.reader.CommentStrategy;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Iterator;
import java.util.List;
import org.solarmargin.cli.InputFault;
import org.solarmargin.cli.text.CsvText;

/** The truth of a simulated flight, one line for each line of its log. */
public final class TruthReader implements AutoCloseable {

  private final Path file;
  private final CsvReader<CsvRecord> csv;
  private final Iterator<CsvRecord> records;
  private final int[] places;
  private CsvRecord record;

  /**
   * Opens a truth file.
   *
   * @param file as {@code simulate} writes it
   * @param columns wanted, by name
   */
  public TruthReader(Path file, List<String> columns) {
    this.file = file;
    try {
      csv =
          CsvReader.builder()
              .commentStrategy(CommentStrategy.SKIP)
              .ofCsvRecord(Files.newInputStream(file), StandardCharsets.UTF_8);
    } catch (NoSuchFileException e) {
      throw new InputFault(file + ": no such file: --truth wants the log's own truth");
    } catch (IOException e) {
      throw new InputFault(file + ": cannot be read: " + e.getMessage());
    }
    records = csv.iterator();
    if (!records.hasNext()) {
      throw new InputFault(file + ": empty: a truth needs a header line");
    }
    List<String> names = records.next().getFields().stream().map(String::strip).toList();
    places = columns.stream().mapToInt(names::indexOf).toArray();
    for (int i = 0; i < places.length; i++) {
      if (places[i] < 0) {
        throw new InputFault(file + " line 1: no column " + columns.get(i) + " in the truth");
      }
    }
  }

  /** Moves to the next line; call once for each line of the log. */
  public void next() {
    if (!records.hasNext()) {
      throw new InputFault(file + ": shorter than its log: a line for each line is needed");
    }
    record = records.next();
  }

  /**
   * A value of this line.
   *
   * @param column place in the list given
   * @return NaN if empty
   */
  public double value(int column) {
    String text = record.getField(places[column]);
    try {
      return CsvText.absent(text) ? Double.NaN : JavaDoubleParser.parseDouble(text);
    } catch (NumberFormatException e) {
      throw new InputFault(
          file + " line " + record.getStartingLineNumber() + ": must be a number: " + text);
    }
  }

  @Override
  public void close() throws IOException {
    csv.close();
  }
}
