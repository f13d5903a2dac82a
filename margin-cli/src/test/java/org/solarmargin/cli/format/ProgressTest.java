package org.solarmargin.cli.format;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is drawn at a terminal while a verb works, and how what was not finished is said. */
class ProgressTest {

  private final StringWriter text = new StringWriter();
  private final PrintWriter err = new PrintWriter(text);

  @ParameterizedTest
  @CsvSource({
    "0, ...................................., 0",
    "5, ###############..............., 50",
    "10, ##############################, 100",
    "11, ##############################, 100"
  })
  void theBarIsTheShareThatIsDone(double done, String bar, int percent) {
    try (Progress progress = new Progress(err, true, "flying", 10)) {
      progress.step(done);
      String shown = "\rflying [" + bar.substring(0, 30) + "] " + percent + " %";
      assertEquals(shown, text.toString().stripTrailing());
    }
    assertTrue(text.toString().endsWith(Progress.CLEARED), "the line is cleared at the end");
  }

  @Test
  void withoutATotalTheCountIsShown() {
    try (Progress progress = new Progress(err, true, "reading", 0)) {
      progress.step(41.6);
      assertEquals("\rreading 42", text.toString());
      progress.keep();
    }
    assertEquals("\rreading 42" + System.lineSeparator(), text.toString(), "kept on request");
  }

  @Test
  void nothingIsShownElsewhere() {
    try (Progress progress = new Progress(err, false, "flying", 10)) {
      progress.step(5);
      assertFalse(progress.due());
    }
    try (Progress none = Progress.none()) {
      none.step(1);
    }
    assertEquals("", text.toString());
  }

  @Test
  void aStepIsDueEverySoManyCalls() {
    try (Progress progress = new Progress(err, true, "reading", 10)) {
      int due = 0;
      for (int i = 0; i < 4 * 65_536; i++) {
        due += progress.due() ? 1 : 0;
      }
      assertEquals(4, due);
    }
    assertEquals("", text.toString(), "what drew nothing clears nothing");
  }

  @Test
  void whatWasStoppedSaysHowFarItCame() {
    assertEquals("PARTIAL: stopped after 3 of 9 logs", Partial.of(true, 3, 9, "logs").line());
    assertEquals("PARTIAL: stopped after 3 of 9 logs", Partial.of(false, 3, 9, "logs").line());
    assertEquals("", Partial.of(false, 9, 9, "logs").line());
    Partial.of(false, 3, 9, "logs").print(err);
    Partial.WHOLE.print(err);
    assertEquals("PARTIAL: stopped after 3 of 9 logs" + System.lineSeparator(), text.toString());
  }

  /** Colours pass where they may, whole; a bell passes by itself alone. */
  @Test
  void aTerminalIsSteeredByColoursAlone() throws IOException {
    for (String colour : List.of("\u001b[1m", "\u001b[38;5;9m", "\u001b[m")) {
      assertEquals(colour, through(true, colour));
      assertEquals("?" + colour.substring(1), through(false, colour));
    }
    for (String other : List.of("\u001b[2J", "\u001b[1", "\u001b[", "\u001b", "\u001b]0;m")) {
      assertEquals("?" + other.substring(1), through(true, other));
    }
    assertEquals("a?b\r\n\t", through(true, "a\u0007b\r\n\t"));
    for (String own : List.of(TerminalText.BELL, TerminalText.CUT, TerminalText.WRAP)) {
      assertEquals(own, through(true, own));
      assertFalse(through(false, own).matches("(?s).*[\u0007\u001b].*"), "not to a terminal");
    }
    StringWriter single = new StringWriter();
    TerminalText filter = new TerminalText(single, false);
    filter.write('\u001b');
    filter.write(new char[] {'x', '\u009b'}, 0, 2);
    assertEquals("?x?", single.toString());
  }

  private static String through(boolean colours, String words) throws IOException {
    StringWriter passed = new StringWriter();
    new TerminalText(passed, colours).write(words, 0, words.length());
    return passed.toString();
  }
}
