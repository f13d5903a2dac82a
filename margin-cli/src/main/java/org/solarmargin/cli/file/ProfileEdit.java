package org.solarmargin.cli.file;

import java.io.IOException;
import java.io.Writer;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.solarmargin.core.profile.PropertiesFile;

/**
 * Changes values in the text of a craft profile: existing keys in place, without the mark of an
 * estimate above them, new keys at the end, every other line and comment unchanged.
 */
public final class ProfileEdit {

  private ProfileEdit() {}

  /**
   * Rewrites a profile completely or not at all.
   *
   * @param profile file to change, UTF-8
   * @param values new values by key, in the order in which new ones are added
   * @param heading comment above the added keys, without {@code #}
   * @throws IOException if it cannot be read or written; it is then unchanged
   */
  public static void into(Path profile, Map<String, String> values, String heading)
      throws IOException {
    List<String> lines = PropertiesFile.read(profile).lines().toList();
    AtomicFile.write(profile, file -> write(lines, values, heading, file.writer()));
  }

  /**
   * Writes the lines of a profile with changed values.
   *
   * @param lines of the profile
   * @param values new values by key, in the order in which new ones are added
   * @param heading comment above the added keys, without {@code #}
   * @param to receives the new text
   * @throws IOException if it cannot be written
   */
  public static void write(
      List<String> lines, Map<String, String> values, String heading, Writer to)
      throws IOException {
    write(lines, values, Set.of(), heading, to);
  }

  /**
   * Writes the lines of a profile with changed values.
   *
   * @param lines of the profile
   * @param values new values by key, in the order in which new ones are added
   * @param retired keys whose lines become comments
   * @param heading comment above the added keys, without {@code #}
   * @param to receives the new text
   * @throws IOException if it cannot be written
   */
  public static void write(
      List<String> lines,
      Map<String, String> values,
      Set<String> retired,
      String heading,
      Writer to)
      throws IOException {
    boolean comments = false;
    Map<String, String> left = new LinkedHashMap<>(values);
    boolean continued = false;
    boolean replaced = false;
    for (int i = 0; i < lines.size(); i++) {
      String line = lines.get(i);
      if (!continued) {
        String next = i + 1 < lines.size() ? key(lines.get(i + 1)) : "";
        if (EstimateMark.is(line) && values.containsKey(next)) {
          continue;
        }
        String key = key(line);
        replaced = values.containsKey(key);
        comments = retired.contains(key);
        String value = replaced ? left.remove(key) : null;
        if (value != null) {
          to.write(key + " = " + value + "\n");
        }
      }
      if (!replaced) {
        to.write((comments ? "# " : "") + line + "\n");
      }
      continued = continues(line, continued);
    }
    if (!left.isEmpty()) {
      to.write("# " + heading + "\n");
      for (Map.Entry<String, String> entry : left.entrySet()) {
        to.write(entry.getKey() + " = " + entry.getValue() + "\n");
      }
    }
  }

  /** Key of a line of properties; empty for comments and blanks. */
  static String key(String line) {
    String text = line.strip();
    if (text.isEmpty() || text.startsWith("#") || text.startsWith("!")) {
      return "";
    }
    int end = 0;
    while (end < text.length() && "=: \t".indexOf(text.charAt(end)) < 0) {
      end++;
    }
    return text.substring(0, end);
  }

  /** Whether the next line belongs to this one: an odd count of backslashes at its end. */
  private static boolean continues(String line, boolean within) {
    String text = line.strip();
    if (!within && (text.startsWith("#") || text.startsWith("!"))) {
      return false;
    }
    int count = 0;
    for (int i = line.length() - 1; i >= 0 && line.charAt(i) == '\\'; i--) {
      count++;
    }
    return count % 2 == 1;
  }
}
