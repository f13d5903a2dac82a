package org.solarmargin.core.profile;

import java.io.IOException;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;

/**
 * A {@code .properties} text with line numbers, read strictly: unknown, repeated and missing keys
 * and values out of range are faults, which are collected and reported together.
 */
public final class StrictProperties {

  /** Number of faults that are listed; the rest are only counted. */
  private static final int MOST_FAULTS = 10;

  /** Longer keys and values are truncated in messages; no similar key is suggested for them. */
  private static final int LONGEST_SHOWN = 80;

  private record Entry(int line, String value) {}

  private final String source;
  private final Map<String, Entry> entries = new LinkedHashMap<>();
  private final Set<String> known = new TreeSet<>();
  private final List<String> faults = new ArrayList<>();
  private int unlisted;

  /**
   * Splits a text into keys and values.
   *
   * @param source name of the file, for messages
   * @param text its content
   * @throws PropertiesException if it is longer than {@link PropertiesFile#LONGEST}
   */
  public StrictProperties(String source, String text) {
    this.source = source;
    if (text.length() > PropertiesFile.LONGEST) {
      throw new PropertiesException(
          List.of(source + ": is longer than " + PropertiesFile.LONGEST + " characters"));
    }
    String[] lines = text.split("\r\n|\n|\r", -1);
    for (int i = 0; i < lines.length; i++) {
      int first = i + 1;
      StringBuilder logical = new StringBuilder(lines[i]);
      boolean comment =
          lines[i].stripLeading().startsWith("#") || lines[i].stripLeading().startsWith("!");
      while (!comment && endsInContinuation(lines[i]) && i + 1 < lines.length) {
        i++;
        logical.append('\n').append(lines[i]);
      }
      take(first, logical.toString());
    }
  }

  private static boolean endsInContinuation(String line) {
    int slashes = 0;
    for (int i = line.length() - 1; i >= 0 && line.charAt(i) == '\\'; i--) {
      slashes++;
    }
    return slashes % 2 == 1;
  }

  private void take(int line, String logical) {
    Properties one = new Properties();
    try {
      one.load(new StringReader(logical));
    } catch (IOException | IllegalArgumentException e) {
      fault(line, "not a properties line", logical.strip());
      return;
    }
    for (String key : one.stringPropertyNames()) {
      Entry earlier = entries.putIfAbsent(key, new Entry(line, one.getProperty(key).strip()));
      if (earlier != null) {
        fault(
            line,
            brief(key) + " is given twice, first in line " + earlier.line() + ": keep one",
            one.getProperty(key));
      }
    }
  }

  /**
   * Whether a key is present; the key counts as known from now on.
   *
   * @param key name
   * @return true if the file contains it
   */
  public boolean has(String key) {
    known.add(key);
    return entries.containsKey(key);
  }

  /**
   * Whether any of these keys is present; all of them count as known from now on.
   *
   * @param keys names
   * @return true if at least one is present
   */
  public boolean hasAny(String... keys) {
    boolean any = false;
    for (String key : keys) {
      any |= has(key);
    }
    return any;
  }

  /**
   * Whether all of these keys are present. It is a fault if only some of them are.
   *
   * @param keys names
   * @return true if all are present, false if none or only some are
   */
  public boolean together(String... keys) {
    int there = 0;
    StringBuilder missing = new StringBuilder();
    for (String key : keys) {
      if (has(key)) {
        there++;
      } else {
        missing.append(' ').append(key);
      }
    }
    if (there > 0 && there < keys.length) {
      fault("give all of " + String.join(", ", keys) + " or none; missing:" + missing);
    }
    return there == keys.length;
  }

  /**
   * A required number.
   *
   * @param key name
   * @param low least value allowed
   * @param high greatest value allowed
   * @return the value; NaN with a fault noted if missing, not a number or out of range
   */
  public double number(String key, double low, double high) {
    if (!has(key)) {
      fault(key + " is missing: give a number in [" + plain(low) + ", " + plain(high) + "]");
      return Double.NaN;
    }
    return number(key, low, high, Double.NaN);
  }

  /**
   * An optional number.
   *
   * @param key name
   * @param low least value allowed
   * @param high greatest value allowed
   * @param otherwise value if the key is absent
   * @return the value; NaN with a fault noted if not a number or out of range
   */
  public double number(String key, double low, double high, double otherwise) {
    if (!has(key)) {
      return otherwise;
    }
    Entry entry = entries.get(key);
    double value;
    try {
      value = PlainNumber.parse(entry.value());
    } catch (NumberFormatException e) {
      fault(entry.line(), key + " must be a number with '.' as decimal mark", entry.value());
      return Double.NaN;
    }
    if (!(value >= low && value <= high)) {
      fault(
          entry.line(),
          key + " must be in [" + plain(low) + ", " + plain(high) + "]",
          entry.value());
      return Double.NaN;
    }
    return value;
  }

  /** Whether no number that was read is at fault (NaN). */
  static boolean complete(double... numbers) {
    return Arrays.stream(numbers).noneMatch(Double::isNaN);
  }

  /**
   * A required whole number.
   *
   * @param key name
   * @param low least value allowed
   * @param high greatest value allowed
   * @return the value; {@code low} with a fault noted if there is none
   */
  public int integer(String key, int low, int high) {
    double value = number(key, low, high);
    return wholeOr(key, value, low);
  }

  /**
   * An optional whole number.
   *
   * @param key name
   * @param low least value allowed
   * @param high greatest value allowed
   * @param otherwise value if the key is absent
   * @return the value; {@code low} with a fault noted if it is not one
   */
  public int integer(String key, int low, int high, int otherwise) {
    double value = number(key, low, high, otherwise);
    return wholeOr(key, value, low);
  }

  private int wholeOr(String key, double value, int low) {
    if (Double.isNaN(value)) {
      return low;
    }
    if (value != Math.rint(value)) {
      fault(entries.get(key).line(), key + " must be a whole number", entries.get(key).value());
      return low;
    }
    return (int) value;
  }

  /**
   * An optional text.
   *
   * @param key name
   * @param otherwise value if the key is absent
   * @return the value, with a fault noted if it has control characters
   */
  public String text(String key, String otherwise) {
    String value = has(key) ? entries.get(key).value() : otherwise;
    if (PropertiesException.UNPRINTABLE.matcher(value).find()) {
      faultOf(key, key + " must have no control characters");
    }
    return value;
  }

  /**
   * An optional choice.
   *
   * @param key name
   * @param otherwise value if the key is absent
   * @param <E> type of the choices
   * @return the value; {@code otherwise} with a fault noted if it is not one of the choices
   */
  public <E extends Enum<E>> E choice(String key, E otherwise) {
    String value = text(key, otherwise.name());
    for (E one : otherwise.getDeclaringClass().getEnumConstants()) {
      if (one.name().equals(value)) {
        return one;
      }
    }
    E[] all = otherwise.getDeclaringClass().getEnumConstants();
    faultOf(key, key + " must be one of " + Arrays.toString(all).replaceAll("[\\[\\]]", ""));
    return otherwise;
  }

  /**
   * Notes a fault that does not concern a single value.
   *
   * @param rule the rule that is broken, and what to do
   */
  public void fault(String rule) {
    add(source + ": " + rule);
  }

  /**
   * Notes a fault of a key's value.
   *
   * @param key name, present in the file
   * @param rule the rule that is broken
   */
  public void faultOf(String key, String rule) {
    Entry entry = entries.get(key);
    fault(entry.line(), rule, entry.value());
  }

  private void fault(int line, String rule, String value) {
    add(source + " line " + line + ": " + rule + ": " + brief(value));
  }

  private void add(String fault) {
    if (faults.size() < MOST_FAULTS) {
      faults.add(fault);
    } else {
      unlisted++;
    }
  }

  private static String brief(String text) {
    return text.length() <= LONGEST_SHOWN ? text : text.substring(0, LONGEST_SHOWN) + "...";
  }

  /**
   * Whether any fault was noted so far.
   *
   * @return true if so
   */
  public boolean faulty() {
    return !faults.isEmpty();
  }

  /**
   * Ends the reading: keys that were not queried are faults.
   *
   * @throws PropertiesException with the first ten faults and the count of the rest, if there are
   *     any
   */
  public void finish() {
    for (Map.Entry<String, Entry> entry : entries.entrySet()) {
      if (!known.contains(entry.getKey())) {
        String key = entry.getKey();
        boolean listed = faults.size() < MOST_FAULTS && key.length() <= LONGEST_SHOWN;
        String meant = listed ? ", did you mean " + nearest(key) + "?" : "";
        fault(
            entry.getValue().line(), "unknown key " + brief(key) + meant, entry.getValue().value());
      }
    }
    if (unlisted > 0) {
      faults.add(source + ": and " + unlisted + " more faults: is this the right file?");
    }
    if (!faults.isEmpty()) {
      throw new PropertiesException(faults);
    }
  }

  /** Keys that were queried. */
  Set<String> known() {
    return known;
  }

  private String nearest(String key) {
    String best = "";
    int least = Integer.MAX_VALUE;
    for (String candidate : known) {
      int distance = distance(key, candidate);
      if (distance < least) {
        least = distance;
        best = candidate;
      }
    }
    return best;
  }

  /** Edit distance (Levenshtein 1966). */
  private static int distance(String a, String b) {
    int[] previous = new int[b.length() + 1];
    for (int j = 0; j <= b.length(); j++) {
      previous[j] = j;
    }
    for (int i = 1; i <= a.length(); i++) {
      int[] row = new int[b.length() + 1];
      row[0] = i;
      for (int j = 1; j <= b.length(); j++) {
        int swap = previous[j - 1] + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
        row[j] = Math.min(swap, 1 + Math.min(previous[j], row[j - 1]));
      }
      previous = row;
    }
    return previous[b.length()];
  }

  private static String plain(double value) {
    return value == Math.rint(value) && Math.abs(value) < 1e9
        ? Long.toString((long) value)
        : Double.toString(value);
  }
}
