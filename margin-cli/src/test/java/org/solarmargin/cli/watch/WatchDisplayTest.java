package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.format.TerminalText;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertReason;

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
          new WatchDisplay(new PrintWriter(text), new PrintWriter(text), json, false, false);
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

  @Test
  void onATerminalOneLineStaysAndWarningsRing() {
    PrintWriter out = new PrintWriter(new TerminalText(new PrintWriter(text), true));
    WatchDisplay display = new WatchDisplay(out, out, false, true, true);
    display.show(figures("SHARP", 119), 10);
    display.show(new LiveFeed.Alert(5, AlertLevel.WARNING, true, AlertReason.LOW_MARGIN));
    display.show(figures("SHARP", 120), 11);
    assertEquals(
        "\r\u001b[K\u001b[?7l+19 % (+19)  0.50 of 0.60  +50 g (+50)  0.0 s  SHARP\u001b[?7h"
            + "\r\u001b[K     5.0 s  >>> WARNING: margin low against recent peak demand\n"
            + "\u001b[0m\u0007"
            + "\r\u001b[K\u001b[?7l+20 % (+20)  0.50 of 0.60  +50 g (+50)  0.0 s  SHARP\u001b[?7h",
        text.toString());
  }

  @Test
  void elsewhereNothingSteersATerminal() {
    PrintWriter out = new PrintWriter(new TerminalText(new PrintWriter(text), false));
    WatchDisplay display = new WatchDisplay(out, out, false, true, false);
    display.show(figures("SHARP", 119), 10);
    display.show(new LiveFeed.Alert(5, AlertLevel.WARNING, true, AlertReason.LOW_MARGIN));
    assertTrue(text.toString().chars().noneMatch(c -> c < ' ' && c != '\n'), text.toString());
    assertTrue(text.toString().contains(">>> WARNING: margin low"), text.toString());
    assertFalse(text.toString().contains("?"), text.toString());
  }
}
