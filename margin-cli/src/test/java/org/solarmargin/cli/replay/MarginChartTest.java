package org.solarmargin.cli.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;

/** The chart that replay draws in the terminal. */
class MarginChartTest {

  private static final Path LOST = Cli.EXAMPLES.resolve("flights/slow-fade.csv");

  private static List<String> chart(Cli run) {
    List<String> lines = run.out.lines().toList();
    int first = 0;
    while (!lines.get(first).startsWith("Least margin in each interval")) {
      first++;
    }
    return lines.subList(first + 1, first + 7);
  }

  @Test
  void theLossIsAtTheBottomUnderAWarning() {
    List<String> lines = chart(Cli.run("replay", LOST, "--craft", Cli.STILT));
    assertTrue(lines.get(0).matches(" +[0-9]+ W \\|.*"), lines.get(0));
    assertTrue(lines.get(3).startsWith("    0 W |"), lines.get(3));
    assertTrue(lines.get(4).endsWith("WWWWW"), lines.get(4));
    // lost at 1:37 of 2:10: the last quarter of the lowest row is empty
    assertTrue(lines.get(3).length() < 0.85 * lines.get(4).length(), lines.get(3));
    for (String line : lines) {
      assertTrue(line.length() <= 78, line);
    }
  }

  @Test
  void asciiOnRequestIsAscii() {
    Cli run = Cli.run("replay", LOST, "--craft", Cli.STILT, "--ascii");
    assertEquals(run.out.length(), run.out.getBytes(StandardCharsets.UTF_8).length);
    assertEquals(6, chart(run).size());
  }
}
