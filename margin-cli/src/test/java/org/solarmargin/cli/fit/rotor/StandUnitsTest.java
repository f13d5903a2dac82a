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
    Cli run = fit(factor);
    assertEquals(status, run.status, run.err);
    if (status != 0) {
      assertEquals(1, run.err.lines().count(), run.err);
      assertTrue(run.err.contains("stand.csv line "), run.err);
      assertTrue(run.err.contains("are these kilograms or newtons? write grams"), run.err);
    }
  }

  /**
   * An ideal propeller gives T = (2 rho A P^2)^(1/3) (momentum theory). At 38.96 W, a disc of
   * 0.5588 m and 1.225 kg/m3 that is 9.70 N or 989 g, in an ideal duct 2^(1/3) times as much: 1246
   * g. The stand measured 626.8 g, so 1.9 times that is possible in a duct; 4 times, the thrust of
   * four motors, is not, and milligrams are not.
   */
  @ParameterizedTest
  @CsvSource({"1.9, 0", "4, 3", "1000, 3"})
  void moreThanAnIdealPropellerGivesIsRefused(double factor, int status) throws IOException {
    Cli run = fit(factor);
    assertEquals(status, run.status, run.err);
    assertEquals(status == 0, run.err.isEmpty(), run.err);
    assertTrue(status == 0 || run.err.contains("an ideal propeller"), run.err);
  }

  private Cli fit(double factor) throws IOException {
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
    return Cli.run("fit", "rotor", stand, "--craft", Cli.STILT);
  }
}
