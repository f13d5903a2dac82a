package org.solarmargin.cli.csv;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Printable;

/** A bench table: CSV with a header of names, numbers below, comments after {@code #}. */
public final class NumberTable {

  /** Enough for one finely sampled curve or for tens of curves measured by hand. */
  static final int MOST_ROWS = 5000;

  /** Characters of a header that a message quotes. */
  private static final int LONGEST_HEADER = 300;

  private final String name;
  private final Map<String, List<Double>> columns = new LinkedHashMap<>();
  private List<String> either = List.of();
  private final List<Long> lines = new ArrayList<>();

  private NumberTable(String name) {
    this.name = name;
  }

  /**
   * Reads a table.
   *
   * @param file the file
   * @param required columns that must be there, with a value in every line
   * @param optional columns that may be there; missing or empty reads as NaN
   */
  public static NumberTable read(Path file, List<String> required, List<String> optional) {
    return new NumberTable(file.toString()).readAll(file, required, optional);
  }

  private NumberTable readAll(Path file, List<String> required, List<String> optional) {
    try (CsvReader<CsvRecord> csv = CsvText.reader(new QuoteGuard(CsvText.open(file, "a file")))) {
      Iterator<CsvRecord> records = csv.iterator();
      if (!records.hasNext()) {
        throw new InputFault(file + ": empty: a header line is needed");
      }
      read(records, required, optional);
    } catch (CsvParseException | UncheckedIOException e) {
      throw CsvText.fault(name, e);
    } catch (IOException e) {
      throw new InputFault(file + ": cannot be read: " + e.getMessage());
    }
    return this;
  }

  /** Which of the mutually exclusive columns is present; the first if none is. */
  private List<String> oneOf(List<String> names) {
    List<String> there = either.stream().filter(names::contains).toList();
    if (there.size() > 1) {
      throw new InputFault(
          name + ": has both " + String.join(" and ", there) + ": give one of them");
    }
    return there.isEmpty() && !either.isEmpty() ? List.of(either.get(0)) : there;
  }

  public boolean has(String column) {
    return columns.containsKey(column);
  }

  /**
   * Reads a table in which one of several columns must be there, but no two.
   *
   * @param either the mutually exclusive columns
   */
  public static NumberTable readEither(
      Path file, List<String> required, List<String> either, List<String> optional) {
    NumberTable table = new NumberTable(file.toString());
    table.either = List.copyOf(either);
    return table.readAll(file, required, optional);
  }

  private void read(Iterator<CsvRecord> records, List<String> always, List<String> optional) {
    CsvRecord header = records.next();
    List<String> names = header.getFields().stream().map(String::strip).toList();
    List<String> required = new ArrayList<>(always);
    required.addAll(oneOf(names));
    for (String column : required) {
      if (!names.contains(column)) {
        throw new InputFault(
            name
                + " line "
                + header.getStartingLineNumber()
                + ": no column "
                + column
                + ": the header has "
                + Printable.brief(String.join(", ", names), LONGEST_HEADER)
                + "; rename it");
      }
    }
    List<String> wanted = new ArrayList<>(required);
    wanted.addAll(optional);
    wanted.forEach(column -> columns.put(column, new ArrayList<>()));
    int[] places =
        wanted.stream().mapToInt(column -> CsvText.place(name, header, column)).toArray();
    while (records.hasNext()) {
      CsvRecord record = records.next();
      if (lines.size() == MOST_ROWS) {
        throw new InputFault(
            name
                + ": has more than "
                + MOST_ROWS
                + " rows, the most that are read: thin it out or divide it");
      }
      lines.add(record.getStartingLineNumber());
      for (int i = 0; i < places.length; i++) {
        String column = wanted.get(i);
        columns.get(column).add(number(record, places[i], column, required));
      }
    }
  }

  private double number(CsvRecord record, int place, String column, List<String> required) {
    boolean there = place >= 0 && place < record.getFieldCount();
    String text = there ? record.getField(place).strip() : "";
    double value = Double.NaN;
    if (!text.isEmpty()) {
      try {
        value = CsvText.number(text);
      } catch (NumberFormatException e) {
        throw fault(record.getStartingLineNumber(), column + " must be a number", text);
      }
    }
    boolean missing = text.isEmpty() && required.contains(column);
    if (missing || Double.isInfinite(value) || (!text.isEmpty() && Double.isNaN(value))) {
      throw fault(record.getStartingLineNumber(), column + " must be a finite number", text);
    }
    return value;
  }

  /** A fault of one line that says what to do. */
  public InputFault fault(long line, String rule, String value) {
    return InputFault.ofLine(name, line, rule, value);
  }

  String name() {
    return name;
  }

  int size() {
    return lines.size();
  }

  public long line(int row) {
    return lines.get(row);
  }

  /** All values of a column. */
  public double[] column(String column) {
    return columns.get(column).stream().mapToDouble(Double::doubleValue).toArray();
  }
}
