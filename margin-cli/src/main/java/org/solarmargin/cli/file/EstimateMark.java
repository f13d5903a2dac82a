package org.solarmargin.cli.file;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The comment above a value of a profile that is an estimate. It names the estimate, so that a mark
 * that remains above a value entered later does not apply to that value.
 */
public final class EstimateMark {

  private static final Pattern MARK = Pattern.compile("#\\s*ESTIMATED\\b.*:\\s*(\\S*)");

  private EstimateMark() {}

  /**
   * The mark of a value.
   *
   * @param value as in the line below
   * @return text of the comment, without {@code #}
   */
  public static String of(String value) {
    return "ESTIMATED by momentum theory, not measured (remove this line when measured): " + value;
  }

  /** Whether a line is a mark. */
  static boolean is(String line) {
    return MARK.matcher(line.strip()).matches();
  }

  /**
   * The values of a profile that are directly below their mark.
   *
   * @param lines of the profile
   * @return values by key
   */
  public static Map<String, String> marked(List<String> lines) {
    Map<String, String> marked = new LinkedHashMap<>();
    for (int i = 1; i < lines.size(); i++) {
      Matcher mark = MARK.matcher(lines.get(i - 1).strip());
      String key = ProfileEdit.key(lines.get(i));
      if (mark.matches() && !key.isEmpty()) {
        String value =
            lines.get(i).strip().substring(key.length()).replaceFirst("^\\s*[=:]?\\s*", "");
        String estimate = mark.group(1);
        // marks of earlier profiles name no estimate
        if (estimate.isEmpty() || estimate.equals(value)) {
          marked.put(key, value);
        }
      }
    }
    return marked;
  }
}
