package org.solarmargin.cli.log;

import com.google.gson.JsonElement;
import com.google.gson.JsonObject;
import com.google.gson.JsonParseException;
import com.google.gson.JsonParser;
import com.google.gson.JsonPrimitive;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.PushbackInputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.StringJoiner;
import org.solarmargin.cli.csv.CsvText;
import org.solarmargin.cli.format.Printable;

/**
 * Converts lines with one JSON object each, whose names are those of the log's columns, to lines of
 * CSV. A name that is missing or null is an absent reading. A line that is not an object becomes an
 * unreadable line, which the log reader reports.
 */
final class JsonLines implements LineStream.Lines {

  /** Longest line that is read, characters. */
  private static final int LONGEST = 1 << 16;

  private static final int SHOWN = 60;

  private final BufferedReader in;
  private final ColumnMap columns;
  private final StringBuilder line = new StringBuilder();
  private boolean started;

  private JsonLines(InputStream in, ColumnMap columns) {
    this.in = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
    this.columns = columns;
  }

  /** Converts JSON lines to CSV if the first non-blank character begins an object. */
  static InputStream asCsv(InputStream in, ColumnMap columns) throws IOException {
    int first = in.read();
    while (first == ' ' || first == '\t' || first == '\r' || first == '\n') {
      first = in.read();
    }
    if (first < 0) {
      return in;
    }
    PushbackInputStream whole = new PushbackInputStream(in, 1);
    whole.unread(first);
    return first == '{' ? new LineStream(new JsonLines(whole, columns), List.of()) : whole;
  }

  @Override
  public String next() throws IOException {
    if (!started) {
      started = true;
      StringJoiner header = new StringJoiner(",");
      for (Column column : Column.values()) {
        header.add(quoted(columns.header(column)));
      }
      return header.toString();
    }
    while (true) {
      if (!read()) {
        return null;
      }
      if (!line.toString().isBlank()) {
        return csv(line.toString());
      }
    }
  }

  /** Reads a line, truncated just beyond the longest permitted length. */
  private boolean read() throws IOException {
    line.setLength(0);
    int one = in.read();
    if (one < 0) {
      return false;
    }
    for (; one >= 0 && one != '\n'; one = in.read()) {
      if (line.length() <= LONGEST) {
        line.append((char) one);
      }
    }
    return true;
  }

  private String csv(String text) {
    try {
      JsonElement parsed = text.length() > LONGEST ? null : JsonParser.parseString(text);
      if (parsed instanceof JsonObject object) {
        StringJoiner fields = new StringJoiner(",");
        for (Column column : Column.values()) {
          fields.add(field(object.get(columns.header(column))));
        }
        return fields.toString();
      }
    } catch (JsonParseException | IllegalStateException | NumberFormatException e) {
      // reported below
    }
    return unreadable(text);
  }

  private static String field(JsonElement value) {
    if (value == null || value.isJsonNull()) {
      return "";
    }
    return value instanceof JsonPrimitive ? quoted(value.getAsString()) : quoted(value.toString());
  }

  /** A line whose time is not a number. */
  private static String unreadable(String text) {
    return quoted("not a JSON object: " + Printable.brief(text.strip(), SHOWN))
        + ",".repeat(Column.values().length - 1);
  }

  private static String quoted(String text) {
    return text.matches("[-+.0-9A-Za-z_ ]*") ? text : CsvText.quoted(Printable.of(text));
  }

  @Override
  public void close() throws IOException {
    in.close();
  }
}
