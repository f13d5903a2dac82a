package org.solarmargin.cli.log;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.LogSources;

/** Which header name denotes which quantity, and in what unit. */
public final class ColumnMap {

  private final Map<Column, String> headers = new EnumMap<>(Column.class);
  private final Map<Column, Source> sources = new EnumMap<>(Column.class);
  private final Set<Column> mapped = EnumSet.noneOf(Column.class);

  private LogSources messages = LogSources.DEFAULT;
  private int motors = 4;

  /**
   * The log format's own names, changed by mappings.
   *
   * @param mappings each {@code NAME=HEADER} or {@code NAME=HEADER:UNIT}
   * @throws IllegalArgumentException with the rule and the mapping, if one is invalid
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

  /**
   * The names stated in a craft's profile, changed by mappings.
   *
   * @param profile with {@code log.*} and {@code link.*} keys
   * @param mappings each {@code NAME=HEADER} or {@code NAME=HEADER:UNIT}
   * @return the map
   * @throws InputFault with the rule and the value, if a mapping in the profile is invalid
   * @throws IllegalArgumentException with the rule and the mapping, if one is invalid
   */
  public static ColumnMap of(CraftProfile profile, List<String> mappings) {
    ColumnMap map = new ColumnMap(List.of());
    map.messages = profile.sources();
    map.motors = profile.rotors();
    try {
      profile
          .sources()
          .columns()
          .forEach((name, rest) -> map.add(find(name, name), rest, "log." + name));
    } catch (IllegalArgumentException e) {
      throw new InputFault("the profile of " + profile.name() + ": " + e.getMessage());
    }
    mappings.forEach(map::add);
    return map;
  }

  /** Creates the converter from telemetry messages to rows. */
  MessageRows messageRows() {
    return new MessageRows(messages, motors);
  }

  private void add(String mapping) {
    int equals = mapping.indexOf('=');
    if (equals <= 0 || equals == mapping.length() - 1) {
      throw new IllegalArgumentException(
          "--column must be NAME=HEADER or NAME=HEADER:UNIT, for example bus_v=Voltage:mV: "
              + mapping);
    }
    Column column = find(mapping.substring(0, equals), mapping);
    add(column, mapping.substring(equals + 1), "--column " + column.word());
  }

  private void add(Column column, String rest, String option) {
    int colon = rest.lastIndexOf(':');
    mapped.add(column);
    if (colon < 0) {
      headers.put(column, rest);
      sources.put(column, Source.NONE);
      return;
    }
    Source source = Source.of(column, -1, rest.substring(colon + 1));
    if (source == null) {
      throw new IllegalArgumentException(
          option + " must be in one of " + column.unitList() + ": " + rest);
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
        "--column must name one of time_s, bus_v, bus_a, throttle, cell_c, height_m, event: "
            + mapping);
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

  /** The conversion of a column, as far as the caller stated it. */
  Source source(Column column) {
    return sources.get(column);
  }
}
