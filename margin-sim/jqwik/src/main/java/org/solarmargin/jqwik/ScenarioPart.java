package org.solarmargin.jqwik;

import java.util.ArrayList;
import java.util.List;

/**
 * Some lines of a scenario file, {@code key = value} each. Parts with different keys can be
 * combined to a scenario; a key that occurs in two parts is refused when the scenario is read.
 *
 * @param lines without line ends
 */
public record ScenarioPart(List<String> lines) {

  /** Copies the list. */
  public ScenarioPart {
    lines = List.copyOf(lines);
  }

  /**
   * Creates a part from given lines.
   *
   * @param lines {@code key = value} each
   * @return the part
   */
  public static ScenarioPart of(String... lines) {
    return new ScenarioPart(List.of(lines));
  }

  /**
   * This part and another one.
   *
   * @param other its lines come after these
   * @return both
   */
  public ScenarioPart and(ScenarioPart other) {
    List<String> both = new ArrayList<>(lines);
    both.addAll(other.lines);
    return new ScenarioPart(both);
  }

  /** The lines as the text of a scenario file. */
  @Override
  public String toString() {
    return String.join("\n", lines);
  }
}
