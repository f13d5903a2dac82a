package org.solarmargin.cli.log;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.PriorityQueue;
import java.util.Set;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.format.Printable;

/**
 * Converts a ULog flight log (openly documented format) to lines in the log format's own columns.
 * Each message gives a line at its own time with the columns that it feeds; the others are empty,
 * meaning no new reading. Lines are sorted by time within a window of half a second, and not across
 * a jump of the clock.
 */
final class UlogLog implements LineStream.Lines {

  private static final Map<Column, List<String>> USUAL =
      Map.of(
          Column.VOLTS, List.of("battery_status.voltage_v"),
          Column.AMPS, List.of("battery_status.current_a"),
          Column.THROTTLE,
              List.of(
                  "actuator_motors.control[0-11]",
                  "actuator_outputs.output[0-3]",
                  "actuator_controls_0.control[3]"));

  private static final List<Column> FED =
      List.of(Column.VOLTS, Column.AMPS, Column.THROTTLE, Column.CELL, Column.HEIGHT);
  private static final long WINDOW_MICROS = 500_000;

  /** A message that is older than the newest by more than this is of a clock that went back. */
  private static final long BACK_MICROS = 2_000_000;

  private static final int LONGEST = 300;

  private record Feed(UlogSource source, UlogFormat.Field field, boolean pulse) {}

  /** Values of one message; {@code run} counts the jumps of the clock before it. */
  private record Row(long run, long micros, Map<Column, Double> values) {
    boolean sameTime(Row other) {
      return run == other.run && micros == other.micros;
    }
  }

  private final UlogFile file;
  private final Map<Column, Feed> feeds = new EnumMap<>(Column.class);
  private final Map<Integer, String> subscribed = new HashMap<>();
  private final PriorityQueue<Row> waiting =
      new PriorityQueue<>(Comparator.comparingLong(Row::run).thenComparingLong(Row::micros));
  private final String header;
  private final List<String> notes = new ArrayList<>();
  private boolean started;
  private boolean ended;
  private long newest;
  private long run;

  /**
   * Opens a log.
   *
   * @throws InputFault if a required column has no source in it
   */
  UlogLog(Path path, ColumnMap columns) throws IOException {
    Map<String, String> definitions = new HashMap<>();
    Set<String> topics = look(path, definitions);
    StringBuilder names = new StringBuilder(Column.TIME.word());
    for (Column column : FED) {
      Feed feed = feed(column, columns, topics, definitions);
      if (feed != null) {
        feeds.put(column, feed);
        names.append(',').append(columns.header(column));
        notes.add(column.word() + " is " + feed.source().words() + (feed.pulse() ? " in us" : ""));
      } else if (column.required()) {
        throw new InputFault(
            path
                + ": is a ULog flight log with no source for "
                + column.word()
                + ": name one with --column "
                + column.word()
                + "=TOPIC.FIELD; it has "
                + Printable.brief(String.join(", ", topics.stream().sorted().toList()), LONGEST));
      }
    }
    header = names.toString();
    file = new UlogFile(path);
  }

  List<String> notes() {
    return notes;
  }

  /** Collects the definitions and the topics with data, as {@code name#instance}. */
  private static Set<String> look(Path path, Map<String, String> definitions) throws IOException {
    Map<Integer, String> names = new HashMap<>();
    Set<String> topics = new HashSet<>();
    try (UlogFile all = new UlogFile(path)) {
      while (all.next()) {
        if (all.type() == 'F') {
          String[] parts = all.text(0).split(":", 2);
          definitions.put(parts[0], parts.length == 2 ? parts[1] : "");
        } else if (all.type() == 'A' && all.content().limit() > 3) {
          names.put((int) all.content().getShort(1), topic(all));
        } else if (all.type() == 'D' && all.content().limit() > 2) {
          topics.add(names.getOrDefault((int) all.content().getShort(0), ""));
        }
      }
    }
    topics.remove("");
    return topics;
  }

  private static String topic(UlogFile message) {
    return message.text(3) + "#" + (message.content().get(0) & 0xff);
  }

  private static Feed feed(
      Column column, ColumnMap columns, Set<String> topics, Map<String, String> definitions) {
    List<String> candidates =
        columns.mapped(column)
            ? List.of(columns.header(column))
            : USUAL.getOrDefault(column, List.of());
    for (String text : candidates) {
      UlogSource source = UlogSource.parse(text);
      if (source != null && topics.contains(source.topic() + "#" + source.instance())) {
        UlogFormat.Field field = UlogFormat.of(source.topic(), definitions).field(source.field());
        if (field != null) {
          boolean pulse = !columns.mapped(column) && source.topic().equals("actuator_outputs");
          return new Feed(source, field, pulse);
        }
      }
    }
    return null;
  }

  @Override
  public String next() throws IOException {
    if (!started) {
      started = true;
      return header;
    }
    while (!ended && (waiting.isEmpty() || mayGrow(waiting.peek()))) {
      read();
    }
    Row row = waiting.poll();
    while (row != null && !waiting.isEmpty() && waiting.peek().sameTime(row)) {
      row.values().putAll(waiting.poll().values());
    }
    return row == null ? null : line(row);
  }

  /** Whether messages of the same or an earlier time may still follow. */
  private boolean mayGrow(Row row) {
    return row.run() == run && newest - row.micros() < WINDOW_MICROS;
  }

  private void read() throws IOException {
    if (!file.next()) {
      ended = true;
      return;
    }
    ByteBuffer content = file.content();
    if (file.type() == 'A' && content.limit() > 3) {
      subscribed.put((int) content.getShort(1), topic(file));
    } else if (file.type() == 'D' && content.limit() > 10) {
      String topic = subscribed.getOrDefault((int) content.getShort(0), "");
      take(topic, content.position(2).slice().order(content.order()));
    }
  }

  private void take(String topic, ByteBuffer data) {
    Map<Column, Double> values = new EnumMap<>(Column.class);
    feeds.forEach(
        (column, feed) -> {
          if (topic.equals(feed.source().topic() + "#" + feed.source().instance())) {
            double value = mean(feed, data);
            if (!Double.isNaN(value)) {
              values.put(column, value);
            }
          }
        });
    if (!values.isEmpty()) {
      long micros = data.getLong(0);
      // in double, because the difference of any two stamps may overflow
      double ahead = (double) micros - newest;
      boolean jump = ahead > WINDOW_MICROS || ahead < -BACK_MICROS;
      run += jump ? 1 : 0;
      newest = jump ? micros : Math.max(newest, micros);
      waiting.add(new Row(run, micros, values));
    }
  }

  /** Mean of the finite elements; pulse widths are converted to a fraction. */
  private static double mean(Feed feed, ByteBuffer data) {
    double sum = 0;
    int count = 0;
    for (int i = feed.source().from(); i <= feed.source().to(); i++) {
      double value = feed.field().number(data, i);
      if (Double.isFinite(value)) {
        sum += value;
        count++;
      }
    }
    double mean = count == 0 ? Double.NaN : sum / count;
    return feed.pulse() ? Math.max(mean / 1000 - 1, 0) : mean;
  }

  private String line(Row row) {
    StringBuilder line = new StringBuilder(64);
    long whole = Math.floorDiv(row.micros(), 1_000_000L);
    line.append(whole).append('.');
    line.append(String.format(java.util.Locale.ROOT, "%06d", row.micros() - whole * 1_000_000L));
    for (Column column : feeds.keySet()) {
      Double value = row.values().get(column);
      line.append(',').append(value == null ? "" : value.toString());
    }
    return line.toString();
  }

  @Override
  public void close() throws IOException {
    file.close();
  }
}
