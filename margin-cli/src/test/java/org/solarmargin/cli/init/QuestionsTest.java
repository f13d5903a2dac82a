package org.solarmargin.cli.init;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.core.profile.CraftProfile;

/** init at a terminal, which asks, and elsewhere, where it does not. */
class QuestionsTest {

  @TempDir private Path folder;

  private Cli answered(String answers, Object... words) {
    InputStream before = System.in;
    System.setIn(new ByteArrayInputStream(answers.getBytes(StandardCharsets.UTF_8)));
    System.setProperty("picocli.ansi", "true"); // picocli takes the output for a terminal's
    try {
      return Cli.run(words);
    } finally {
      System.clearProperty("picocli.ansi");
      System.setIn(before);
    }
  }

  /** Blank answers take the default, or are asked again; options are not asked for. */
  @Test
  void aTerminalIsAskedForWhatWasNotGiven() throws IOException {
    Path file = folder.resolve("new.properties");
    Cli run =
        answered(
            "\n\n 1.6 \n48\n\n6.02\n0.683\n5.70\n0.574\n4\n0.5588\n",
            "init",
            file,
            "--isc-coeff",
            "0.05",
            "--voc-coeff",
            "-0.29");
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("Name of the craft [craft]: "), run.out);
    assertTrue(
        run.out.contains("Take-off mass, kg: Take-off mass, kg: "), "asked again: " + run.out);
    CraftProfile craft = CraftProfile.read(file);
    assertEquals("craft", craft.name());
    assertEquals(1.6, craft.massKilograms());
    assertEquals(48, craft.settings().seriesCells());
    assertEquals(1, craft.settings().parallelStrings());
    assertEquals(4, craft.rotors());
    String text = Files.readString(file);
    assertTrue(text.contains("cell.isc_temp_coeff_pct_per_c = 0.05"), text);
    assertTrue(text.contains("cell.voc_temp_coeff_pct_per_c = -0.29"), text);
  }

  @Test
  void answersThatEndAreMissing() {
    Path file = folder.resolve("new.properties");
    Cli run = answered("Stilt\n1.6\n", "init", file);
    assertEquals(2, run.status);
    String first = run.err.lines().findFirst().orElseThrow();
    assertTrue(
        first.contains(
            "these options have no default and must be given: --series, --isc, --voc, --imp, --vmp,"
                + " --diameter-m"),
        first);
    assertFalse(Files.exists(file));
  }

  @Test
  void withoutATerminalNothingIsAsked() {
    Cli run = Cli.run("init", folder.resolve("new.properties"), "--mass-kg", "1.6");
    assertEquals(2, run.status);
    assertFalse(run.out.contains("?") || run.out.contains("Take-off"), run.out);
    assertTrue(
        run.err.startsWith("these options have no default and must be given: --series"), run.err);
  }
}
