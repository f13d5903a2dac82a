package org.solarmargin.jqwik;

import java.util.ArrayList;
import java.util.List;

/**
 * Some lines of a scenario file, {@code key = value} each. Parts with different keys add up to a
 * scenario; a key that stands in two parts is refused when the scenario is read.
 *
 * @param lines without line ends
 */
public record ScenarioPart(List<String> lines) {

  /** Copies the list. */
  public ScenarioPart {
    lines = List.copyOf(lines);
  }

  /**
   * A part of given lines.
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

  /** The lines as text, as a scenario file has them. */
  @Override
  public String toString() {
    return String.join("\n", lines);
  }
}
