package org.solarmargin.cli.log;

import de.siegmar.fastcsv.reader.CsvRecord;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Printable;

/**
 * Finds the columns of a log in its header. Names match in any case, and a unit may follow a name
 * in brackets. If the log format's own name is missing and none is mapped, a usual name of the
 * quantity is accepted and reported.
 */
final class Header {

  /** Characters of a header that a message quotes. */
  private static final int LONGEST = 300;

  private static final Map<Column, List<String>> USUAL =
      Map.of(
          Column.TIME, List.of("time", "timestamp", "t"),
          Column.VOLTS, List.of("voltage", "volts", "volt", "bus_voltage", "bus voltage"),
          Column.AMPS, List.of("current", "curr", "amps", "amperes", "bus_current", "bus current"),
          Column.THROTTLE, List.of("throttle", "thr"));

  /** One field of the header, with its unit separated. */
  private record Name(String whole, String base, String unit) {
    static Name of(String field) {
      String whole = field.strip();
      int last = whole.length() - 1;
      for (String brackets : List.of("()", "[]")) {
        int open = whole.lastIndexOf(brackets.charAt(0));
        if (open > 0 && whole.charAt(last) == brackets.charAt(1)) {
          String unit = whole.substring(open + 1, last).strip();
          return new Name(whole, whole.substring(0, open).strip(), unit);
        }
      }
      return new Name(whole, whole, "");
    }
  }

  private final String file;
  private final long line;
  private final List<Name> names;
  private final ColumnMap columns;
  private final Map<Column, Source> sources = new EnumMap<>(Column.class);
  private final List<String> notes = new ArrayList<>();

  /**
   * Finds all columns.
   *
   * @throws InputFault if a required column is missing, or a column occurs twice
   */
  Header(String file, CsvRecord record, ColumnMap columns) {
    this.file = file;
    this.line = record.getStartingLineNumber();
    this.columns = columns;
    names = record.getFields().stream().map(Name::of).toList();
    for (Column column : Column.values()) {
      Source source = find(column);
      if (source == null && column.required()) {
        throw missing(column);
      }
      sources.put(column, source == null ? Source.NONE : source);
    }
  }

  private Source find(Column column) {
    String wanted = columns.header(column);
    int place = only(wanted, names.stream().map(Name::whole).toList(), false);
    if (place < 0) {
      place = only(wanted, names.stream().map(Name::whole).toList(), true);
    }
    if (place < 0) {
      place = only(wanted, names.stream().map(Name::base).toList(), true);
    }
    for (String usual : columns.mapped(column) ? List.<String>of() : usual(column)) {
      place = place < 0 ? only(usual, names.stream().map(Name::base).toList(), true) : place;
    }
    return place < 0 ? null : source(column, place);
  }

  private static List<String> usual(Column column) {
    return USUAL.getOrDefault(column, List.of());
  }

  private Source source(Column column, int place) {
    Name name = names.get(place);
    boolean own = name.whole().equals(columns.header(column));
    Source source = columns.source(column).at(place);
    boolean stated = columns.unitStated(column);
    if (!stated && !own && !name.unit().isEmpty()) {
      source = Source.of(column, place, name.unit());
      if (source == null) {
        throw new InputFault(
            file
                + " line "
                + line
                + ": unknown unit of "
                + Printable.brief(name.whole(), LONGEST)
                + ": "
                + column.word()
                + " must be in one of "
                + column.unitList()
                + ": name it with --column "
                + column.word()
                + "=HEADER:UNIT");
      }
      stated = true;
    }
    if (!own && !columns.mapped(column)) {
      notes.add(column.word() + " is " + Printable.brief(name.whole(), LONGEST));
    }
    return stated ? source.withUnitStated() : source;
  }

  /** The index of a name, which must not occur twice; -1 if it is missing. */
  private int only(String wanted, List<String> among, boolean anyCase) {
    int found = -1;
    for (int i = 0; i < among.size(); i++) {
      boolean same = anyCase ? among.get(i).equalsIgnoreCase(wanted) : among.get(i).equals(wanted);
      if (same && found >= 0) {
        throw new InputFault(
            String.format(
                Locale.ROOT,
                "%s line %d: column %s occurs twice, as fields %d and %d of the header: rename or"
                    + " remove one",
                file,
                line,
                Printable.brief(wanted, LONGEST),
                found + 1,
                i + 1));
      }
      found = same ? i : found;
    }
    return found;
  }

  private InputFault missing(Column column) {
    String all = String.join(", ", names.stream().map(Name::whole).toList());
    return new InputFault(
        file
            + " line "
            + line
            + ": no column "
            + columns.header(column)
            + ": the header has "
            + Printable.brief(all, LONGEST)
            + "; name it with --column "
            + column.word()
            + "=HEADER[:UNIT]");
  }

  Source source(Column column) {
    return sources.get(column);
  }

  /** Fewest fields that a line must have. */
  int width() {
    int width = 0;
    for (Column column : Column.values()) {
      width = column.required() ? Math.max(width, sources.get(column).place() + 1) : width;
    }
    return width;
  }

  /** Which columns were recognised without a mapping. */
  List<String> notes() {
    return notes;
  }
}
