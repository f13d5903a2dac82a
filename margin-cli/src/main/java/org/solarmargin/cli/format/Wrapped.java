package org.solarmargin.cli.format;

import java.util.ArrayList;
import java.util.List;

/** Text broken into lines at spaces. */
public final class Wrapped {

  private Wrapped() {}

  /**
   * Breaks a text.
   *
   * @param text words separated by single spaces
   * @param width maximum length of a line; a longer word gets a line of its own
   * @return at least one line
   */
  public static List<String> lines(String text, int width) {
    List<String> lines = new ArrayList<>();
    StringBuilder line = new StringBuilder();
    for (String word : text.split(" ", -1)) {
      if (!line.isEmpty() && line.length() + word.length() + 1 > width) {
        lines.add(line.toString());
        line.setLength(0);
      }
      line.append(line.isEmpty() ? "" : " ").append(word);
    }
    lines.add(line.toString());
    return lines;
  }
}
