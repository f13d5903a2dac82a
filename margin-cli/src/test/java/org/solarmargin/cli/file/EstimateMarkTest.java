package org.solarmargin.cli.file;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.StringWriter;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class EstimateMarkTest {

  private static final List<String> PROFILE =
      List.of(
          "# a.one: " + "how to measure it",
          "# " + EstimateMark.of("82.8"),
          "a.one = 82.8",
          "  #" + EstimateMark.of("0.5"),
          " a.two:0.50",
          "# ESTIMATED by momentum theory, not measured:",
          "a.three 7",
          "# " + EstimateMark.of("9"),
          "# a.four = 9",
          "a.four = 9");

  /**
   * A value other than that of its mark was entered later; a mark without a value always counts.
   */
  @Test
  void aMarkAppliesToItsValueInTheNextLine() {
    assertEquals(Map.of("a.one", "82.8", "a.three", "7"), EstimateMark.marked(PROFILE));
  }

  @Test
  void aReplacedValueLosesItsMarkOnly() throws IOException {
    StringWriter out = new StringWriter();
    ProfileEdit.write(PROFILE, Map.of("a.one", "82.8"), "by a test", out);
    List<String> lines = out.toString().lines().toList();
    assertEquals(PROFILE.get(0), lines.get(0));
    assertEquals("a.one = 82.8", lines.get(1));
    assertEquals(PROFILE.subList(3, PROFILE.size()), lines.subList(2, lines.size()));
    assertEquals(Map.of("a.three", "7"), EstimateMark.marked(lines));
  }
}
