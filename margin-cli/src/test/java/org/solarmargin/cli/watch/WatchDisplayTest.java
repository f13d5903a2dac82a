package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertLevel;

/** Figures are shown as often as they can be read, and at once where they are of another kind. */
class WatchDisplayTest {

  private final StringWriter text = new StringWriter();

  private static Figures figures(String state, double watts) {
    double percent = watts - 100;
    return new Figures(
        5, state, percent, percent, watts, watts, 100, 50, 50, 0.5, 0.6, 0.01, AlertLevel.NONE);
  }

  private List<String> lines() {
    return text.toString().lines().toList();
  }

  @Test
  void anotherKindIsShownAtOnceTheSameOneLater() {
    for (boolean json : new boolean[] {false, true}) {
      text.getBuffer().setLength(0);
      WatchDisplay display =
          new WatchDisplay(new PrintWriter(text), new PrintWriter(text), json, false);
      display.show(figures("WARMING_UP", Double.NaN), 10);
      display.show(figures("WARMING_UP", Double.NaN), 10.01);
      assertEquals(1, lines().size(), text.toString());
      display.show(figures("COARSE", 120), 10.02);
      display.show(figures("SHARP", 119), 10.03);
      assertEquals(2, lines().size(), text.toString());
      display.show(figures("PAST_KNEE", 100), 10.04);
      assertEquals(3, lines().size(), text.toString());
      display.show(figures("NO_DATA", Double.NaN), 10.05);
      assertEquals(4, lines().size(), text.toString());
      assertTrue(lines().get(3).contains(json ? "NO_DATA" : "NO DATA"), text.toString());
      display.show(figures("NO_DATA", Double.NaN), 11.06);
      assertEquals(5, lines().size(), text.toString());
    }
  }
}
