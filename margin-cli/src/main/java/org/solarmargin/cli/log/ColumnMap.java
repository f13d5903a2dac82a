package org.solarmargin.cli.log;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/** Which header names stand for which quantity, and in what unit. */
public final class ColumnMap {

  private record Source(String header, double factor, double offset, boolean plain) {}

  private final Map<Column, Source> sources = new EnumMap<>(Column.class);

  /**
   * The log's own names, altered by mappings.
   *
   * @param mappings each {@code NAME=HEADER} or {@code NAME=HEADER:UNIT}
   * @throws IllegalArgumentException with the rule and the mapping, if one cannot be read
   */
  public ColumnMap(List<String> mappings) {
    for (Column column : Column.values()) {
      sources.put(column, new Source(column.word(), 1, 0, true));
    }
    for (String mapping : mappings) {
      add(mapping);
    }
  }

  private void add(String mapping) {
    int equals = mapping.indexOf('=');
    if (equals <= 0 || equals == mapping.length() - 1) {
      throw new IllegalArgumentException(
          "--column wants NAME=HEADER or NAME=HEADER:UNIT, for example bus_v=Voltage:mV: "
              + mapping);
    }
    Column column = find(mapping.substring(0, equals), mapping);
    String rest = mapping.substring(equals + 1);
    int colon = rest.lastIndexOf(':');
    if (colon < 0) {
      sources.put(column, new Source(rest, 1, 0, true));
      return;
    }
    String unit = rest.substring(colon + 1);
    double factor = column.factor(unit);
    if (Double.isNaN(factor)) {
      throw new IllegalArgumentException(
          "--column " + column.word() + " may be in " + column.unitList() + ": " + mapping);
    }
    sources.put(column, new Source(rest.substring(0, colon), factor, column.offset(unit), false));
  }

  private static Column find(String name, String mapping) {
    for (Column column : Column.values()) {
      if (column.word().equals(name)) {
        return column;
      }
    }
    throw new IllegalArgumentException(
        "--column knows time_s, bus_v, bus_a, throttle, cell_c, height_m, event: " + mapping);
  }

  String header(Column column) {
    return sources.get(column).header();
  }

  /** Whether the log's text is the value itself, with no unit in between. */
  boolean plain(Column column) {
    return sources.get(column).plain();
  }

  double convert(Column column, double value) {
    Source source = sources.get(column);
    if (source.plain()) {
      return value;
    }
    return value * source.factor() + source.offset();
  }
}
