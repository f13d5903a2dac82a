package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.format.TerminalText;

/** Names and texts from files never reach a terminal as control sequences. */
class ControlCharactersTest {

  private static final Path CLOUD = Cli.EXAMPLES.resolve("flights/cloud-passage.csv");
  private static final Path CALM = Cli.EXAMPLES.resolve("scenarios/calm-hover.properties");

  private static final int SHORT = 1000;

  /**
   * Clears the screen, sets a title and a colour, rings the bell, moves the cursor, reverses the
   * text direction.
   */
  private static final String EVIL =
      "a\u001b[2J\u001b]0;owned\u0007\u001b[31mb\u009b2Jc\bd\u007f\u202ee\u2066f\u0000g";

  private static final String SHOWN = "a?[2J?]0;owned??[31mb?2Jc?d??e?f?g";

  @TempDir private Path folder;

  private static void assertHarmless(String text) {
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      boolean layout = c == '\n' || c == '\t';
      assertFalse(!layout && Character.isISOControl(c), "control at " + i + " of " + text);
      assertFalse((c >= '\u202a' && c <= '\u202e') || (c >= '\u2066' && c <= '\u2069'), text);
    }
  }

  private static Cli harmless(int status, Object... args) {
    Cli run = Cli.run(args);
    assertHarmless(run.out);
    assertHarmless(run.err);
    assertEquals(status, run.status, run.out + run.err);
    return run;
  }

  private Path log(String name, String event) throws IOException {
    List<String> lines = new ArrayList<>(Files.readAllLines(CLOUD).subList(0, SHORT));
    lines.replaceAll(line -> line + ",");
    lines.set(0, Files.readAllLines(CLOUD).get(0) + ",event");
    lines.set(100, lines.get(100) + event);
    return Files.write(folder.resolve(name), lines);
  }

  @Test
  void anEventIsShownWithoutControlCharacters() throws IOException {
    Path page = folder.resolve("r.html");
    Cli run = harmless(0, "replay", log("l.csv", EVIL), "--craft", Cli.STILT, "--report", page);
    assertTrue(run.out.contains(SHOWN), run.out);
    assertHarmless(Files.readString(page));
  }

  @ParameterizedTest
  @ValueSource(strings = {"\\u001b[2J", "\\u0007", "\\n", "\\u202e", "\\u009b2J", "\u001b[31m"})
  void aCraftOrScenarioNameWithControlCharactersIsRefused(String name) throws IOException {
    Path craft = folder.resolve("craft.properties");
    Files.writeString(
        craft,
        Files.readString(Cli.STILT).replaceAll("(?m)^craft.name.*$", "")
            + "\ncraft.name = a"
            + name
            + "b\n");
    Cli run = harmless(3, "replay", CLOUD, "--craft", craft);
    assertTrue(run.err.contains("craft.name must have no control characters: a?"), run.err);
    assertEquals(1, run.err.lines().count(), run.err);
    Path scenario = folder.resolve("s.properties");
    Files.writeString(
        scenario,
        Files.readString(CALM).replaceAll("(?m)^scenario.title.*$", "")
            + "\nscenario.title = a"
            + name
            + "b\n");
    Cli trial = harmless(3, "trial", scenario, "--craft", Cli.STILT, "--flights", 1);
    assertTrue(trial.err.contains("scenario.title must have no control characters"), trial.err);
  }

  @Test
  void faultsShowValuesAndKeysWithoutControlCharacters() throws IOException {
    Path craft = folder.resolve("craft.properties");
    Files.writeString(
        craft,
        Files.readString(Cli.STILT)
            + "\nsensor.voltage_noise_v = "
            + EVIL
            + "\nk"
            + EVIL
            + " = 1\n");
    harmless(3, "replay", CLOUD, "--craft", craft);
    List<String> lines = new ArrayList<>(Files.readAllLines(CLOUD));
    for (int i = 50; i < 250; i++) {
      lines.set(i, "0.98," + EVIL + ",2.8,0.5,10");
    }
    Path log = Files.write(folder.resolve("v.csv"), lines);
    Cli run = harmless(3, "replay", log, "--craft", Cli.STILT);
    assertTrue(run.err.contains("bus_v must be a number or empty: " + SHOWN), run.err);
    lines.set(0, "time_s,bus_" + EVIL);
    Files.write(log, lines);
    harmless(3, "replay", log, "--craft", Cli.STILT);
    harmless(2, "replay", log, "--craft", Cli.STILT, "--column", EVIL);
    harmless(2, "replay", log, "--craft", Cli.STILT, "--" + EVIL);
    Path sweep = Files.writeString(folder.resolve("s.csv"), "voltage_v," + EVIL + "\n1,2\n");
    harmless(3, "fit", "array", sweep, "--series", 48);
  }

  @Test
  void fileNamesAreShownWithoutControlCharacters() throws IOException {
    Path logs = Files.createDirectory(folder.resolve("logs"));
    Path log = logs.resolve("a\u001b[2J\u0007b.csv");
    Files.write(log, Files.readAllLines(CLOUD).subList(0, SHORT));
    Cli run = harmless(0, "compare", Cli.STILT, Cli.STILT, logs);
    assertTrue(run.out.contains("a?[2J?b.csv"), run.out);
    harmless(0, "replay", log, "--craft", Cli.STILT);
    harmless(3, "replay", logs.resolve("none\u001b[2J"), "--craft", Cli.STILT);
  }

  @Test
  void aLongValueIsTruncated() throws IOException {
    List<String> lines = new ArrayList<>(Files.readAllLines(CLOUD));
    for (int i = 50; i < 250; i++) {
      lines.set(i, "0.98," + "x".repeat(10_000) + ",2.8,0.5,10");
    }
    Cli run = Cli.run("replay", Files.write(folder.resolve("v.csv"), lines), "--craft", Cli.STILT);
    assertEquals(3, run.status);
    assertTrue(run.err.length() < 400, run.err);
    assertTrue(run.err.contains("xxx...: correct or remove the line"), run.err);
  }

  @Test
  void ownColoursPassWhereEnabled() throws IOException {
    String line = "\u001b[1;31mred\u001b[0m \u001b[2J \u001b[31";
    StringWriter coloured = new StringWriter();
    try (TerminalText text = new TerminalText(coloured, true)) {
      text.write(line);
    }
    assertEquals("\u001b[1;31mred\u001b[0m ?[2J ?[31", coloured.toString());
    StringWriter plain = new StringWriter();
    try (TerminalText text = new TerminalText(plain, false)) {
      text.write(line);
    }
    assertEquals("?[1;31mred?[0m ?[2J ?[31", plain.toString());
  }
}
