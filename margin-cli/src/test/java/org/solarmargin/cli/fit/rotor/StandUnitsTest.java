package org.solarmargin.cli.fit.rotor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;

/** Thrust in units other than grams is refused, and grams are accepted. */
class StandUnitsTest {

  private static final Path STAND = Cli.EXAMPLES.resolve("bench/rotor-stand.csv");

  @TempDir private Path folder;

  @ParameterizedTest
  @CsvSource({"0.001, 3", "0.00980665, 3", "1, 0", "0.2, 0"})
  void thrust(double factor, int status) throws IOException {
    List<String> lines = new ArrayList<>();
    for (String line : Files.readAllLines(STAND)) {
      int comma = line.lastIndexOf(',');
      boolean number = comma >= 0 && Character.isDigit(line.charAt(0));
      lines.add(
          number
              ? line.substring(0, comma)
                  + String.format(
                      Locale.ROOT, ",%.6f", factor * Double.parseDouble(line.substring(comma + 1)))
              : line);
    }
    Path stand = Files.write(folder.resolve("stand.csv"), lines);
    Cli run = Cli.run("fit", "rotor", stand, "--craft", Cli.STILT);
    assertEquals(status, run.status, run.err);
    if (status != 0) {
      assertEquals(1, run.err.lines().count(), run.err);
      assertTrue(run.err.contains("stand.csv line "), run.err);
      assertTrue(run.err.contains("are these kilograms or newtons? write grams"), run.err);
    }
  }
}
