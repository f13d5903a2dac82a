package org.solarmargin.sim.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.array.ArrayLayout.GroupLayout;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;
import org.solarmargin.sim.array.ArrayLayout.SubstringLayout;

/** How a scenario's odd and other cells lie among bypass diodes: odd ones first, then others. */
class ArrayKeysTest {

  /** Substrings in brackets, with a star if bypassed; cells as count and light. */
  private static String wiring(StringLayout string) {
    List<String> subs = new ArrayList<>();
    for (SubstringLayout sub : string.substrings()) {
      List<String> groups = new ArrayList<>();
      for (GroupLayout group : sub.groups()) {
        groups.add(group.count() + " at " + group.lightFactor());
      }
      subs.add(groups + (sub.bypassed() ? "*" : ""));
    }
    return String.join(" ", subs);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "0; 0; 0; [48 at 1.0]",
        "2; 3; 0; [2 at 0.5, 3 at 0.8, 43 at 1.0]",
        "48; 9; 0; [48 at 0.5]",
        "60; 60; 0; [48 at 0.5]",
        "0; 60; 0; [48 at 0.8]",
        "16; 16; 16; [16 at 0.5]* [16 at 0.8]* [16 at 1.0]*",
        "20; 2; 16; [16 at 0.5]* [4 at 0.5, 2 at 0.8, 10 at 1.0]* [16 at 1.0]*",
        "0; 0; 20; [20 at 1.0]* [20 at 1.0]* [8 at 1.0]*",
        "0; 0; 99; [48 at 1.0]*",
      })
  void oddCellsComeFirst(int odd, int other, int bypassEvery, String expected) throws Exception {
    CraftProfile craft = CraftProfile.read(Path.of("..", "examples", "stilt", "stilt.properties"));
    String text =
        "plan = 10:10\narray.odd_light = 0.5\narray.other_light = 0.8\narray.odd_cells = "
            + odd
            + "\narray.other_cells = "
            + other
            + "\narray.bypass_every = "
            + bypassEvery;
    Scenario scenario = Scenario.of(new StrictProperties("s", text), craft);
    List<StringLayout> strings = new SetupMaker(scenario, craft).asStated(1).layout().strings();
    assertEquals(List.of(expected), strings.stream().map(ArrayKeysTest::wiring).toList());
  }
}
