package org.solarmargin.sim.scenario;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.solarmargin.core.profile.StrictProperties;

/** Keys whose value is one of a few words. */
final class Choices {

  private Choices() {}

  static boolean flag(StrictProperties in, String key, boolean otherwise) {
    String text = in.text(key, otherwise ? "on" : "off");
    if (!text.equals("on") && !text.equals("off")) {
      in.faultOf(key, key + " must be on or off");
    }
    return text.equals("on");
  }

  static <E extends Enum<E>> E oneOf(StrictProperties in, String key, E otherwise) {
    E[] values = otherwise.getDeclaringClass().getEnumConstants();
    String text = in.text(key, word(otherwise));
    for (E value : values) {
      if (word(value).equals(text)) {
        return value;
      }
    }
    List<String> words = Arrays.stream(values).map(Choices::word).toList();
    String first = words.stream().limit(words.size() - 1L).collect(Collectors.joining(", "));
    in.faultOf(key, key + " must be " + first + " or " + words.get(words.size() - 1));
    return otherwise;
  }

  private static <E extends Enum<E>> String word(E value) {
    return value.name().toLowerCase(Locale.ROOT);
  }
}
