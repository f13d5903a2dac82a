package org.solarmargin.cli.init;

import java.util.Map;
import java.util.Set;
import org.solarmargin.cli.file.EstimateMark;
import org.solarmargin.cli.format.Wrapped;

/**
 * A commented profile: given keys with their values, the others as comments with their defaults.
 */
public final class ProfileText {

  private static final int WIDTH = 96;

  private final Map<String, String> given;
  private final Set<String> guessed;

  /**
   * Creates the text of a profile.
   *
   * @param given values by key, {@code craft.name} among them
   * @param guessed keys among the given ones whose values are estimates
   */
  public ProfileText(Map<String, String> given, Set<String> guessed) {
    this.given = given;
    this.guessed = guessed;
  }

  /**
   * The whole profile.
   *
   * @return lines of a properties file
   */
  public String text() {
    StringBuilder text = new StringBuilder();
    comment(text, given.get("craft.name") + ": advisory only, not certified.");
    comment(
        text, "Lines of the form #key = value are defaults: remove the # to state another value.");
    for (ProfileCatalogue.Section section : ProfileCatalogue.sections()) {
      text.append('\n');
      comment(text, "---- " + section.title());
      for (ProfileKey key : section.keys()) {
        comment(text, key.name() + ": " + key.how());
        String value = given.get(key.name());
        if (value == null) {
          String usual = key.usual().isEmpty() ? "(no default)" : key.usual();
          text.append('#').append(key.name()).append(" = ").append(usual).append('\n');
        } else {
          if (guessed.contains(key.name())) {
            comment(text, EstimateMark.of(value));
          }
          text.append(key.name()).append(" = ").append(value).append('\n');
        }
      }
    }
    return text.toString();
  }

  private static void comment(StringBuilder text, String words) {
    for (String line : Wrapped.lines(words, WIDTH)) {
      text.append("# ").append(line).append('\n');
    }
  }
}
