package org.solarmargin.cli.tune;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.flightevent.LossMarks;

/** Whether a mark is a loss depends on its first word alone. */
class LossMarksTest {

  @TempDir private Path folder;

  @ParameterizedTest
  @CsvSource({
    "loss, true", "LOST lift, true", "' sank: into the reeds', true", "brown-out, true",
    "bird, false", "a loss, false", "lossless, false", "'', false"
  })
  void theFirstWordDecides(String mark, boolean loss) {
    assertEquals(loss, LossMarks.isLoss(mark));
  }

  @Test
  void otherMarksAreListedOnly() throws IOException {
    List<String> lines = new ArrayList<>();
    for (String line : Files.readAllLines(Cli.EXAMPLES.resolve("flights/gusty-hover.csv"))) {
      String mark = line.startsWith("time_s") ? "event" : line.startsWith("50.") ? "bird" : "";
      lines.add(line + "," + mark);
    }
    Path log = folder.resolve("birds.csv");
    Files.write(log, lines);
    Cli check = Cli.run("tune", log, "--craft", Cli.STILT, "--check");
    assertTrue(check.out.contains("of 0 events"), check.out);
    Path page = folder.resolve("page.html");
    Cli tune = Cli.run("tune", log, "--craft", Cli.STILT, "--report", page);
    assertTrue(tune.out.contains("marked: bird"), tune.out);
    assertTrue(Files.readString(page).contains("marked: bird"));
  }
}
