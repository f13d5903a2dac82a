package org.solarmargin.cli.log;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Which elements of which topic feed a column: {@code TOPIC.FIELD}, {@code TOPIC.FIELD[3]}, the
 * mean of {@code TOPIC.FIELD[0-3]}, or another instance of the topic, {@code TOPIC#1.FIELD}.
 *
 * @param topic name of the topic
 * @param instance instance of the topic, from 0
 * @param field name of the field
 * @param from index of the first element
 * @param to index of the last element
 */
record UlogSource(String topic, int instance, String field, int from, int to) {

  private static final Pattern FORM =
      Pattern.compile("(\\w+?)(?:#(\\d{1,3}))?\\.([\\w.]+?)(?:\\[(\\d{1,3})(?:-(\\d{1,3}))?])?");

  /** Parses a source; null if the text has another form. */
  static UlogSource parse(String text) {
    Matcher m = FORM.matcher(text.strip());
    if (!m.matches()) {
      return null;
    }
    int from = m.group(4) == null ? 0 : Integer.parseInt(m.group(4));
    int to = m.group(5) == null ? from : Integer.parseInt(m.group(5));
    int instance = m.group(2) == null ? 0 : Integer.parseInt(m.group(2));
    return new UlogSource(m.group(1), instance, m.group(3), from, to);
  }

  /** The same source as text. */
  String words() {
    String place =
        from == 0 && to == 0 ? "" : from == to ? "[" + from + "]" : "[" + from + "-" + to + "]";
    return topic + (instance == 0 ? "" : "#" + instance) + "." + field + place;
  }
}
