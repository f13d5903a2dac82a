package org.solarmargin.cli.log;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** Which header names stand for which quantity, and in what unit. */
public final class ColumnMap {

  private final Map<Column, String> headers = new EnumMap<>(Column.class);
  private final Map<Column, Source> sources = new EnumMap<>(Column.class);
  private final Set<Column> mapped = EnumSet.noneOf(Column.class);

  /**
   * The log's own names, altered by mappings.
   *
   * @param mappings each {@code NAME=HEADER} or {@code NAME=HEADER:UNIT}
   * @throws IllegalArgumentException with the rule and the mapping, if one cannot be read
   */
  public ColumnMap(List<String> mappings) {
    for (Column column : Column.values()) {
      headers.put(column, column.word());
      sources.put(column, Source.NONE);
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
    mapped.add(column);
    if (colon < 0) {
      headers.put(column, rest);
      return;
    }
    Source source = Source.of(column, -1, rest.substring(colon + 1));
    if (source == null) {
      throw new IllegalArgumentException(
          "--column " + column.word() + " may be in " + column.unitList() + ": " + mapping);
    }
    headers.put(column, rest.substring(0, colon));
    sources.put(column, source);
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
    return headers.get(column);
  }

  /** Whether the caller named this column. */
  boolean mapped(Column column) {
    return mapped.contains(column);
  }

  /** Whether the caller stated its unit. */
  boolean unitStated(Column column) {
    return sources.get(column).unitStated();
  }

  /** How a column's text becomes its value, as far as the caller stated it. */
  Source source(Column column) {
    return sources.get(column);
  }
}
