package org.solarmargin.cli.fit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
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

/** Bench tables with a fault, or with less than a fit needs. */
class BenchFaultsTest {

  private static final Path SWEEP = Cli.EXAMPLES.resolve("bench/array-sweep.csv");
  private static final Path STAND = Cli.EXAMPLES.resolve("bench/rotor-stand.csv");

  @TempDir private Path folder;

  private static List<String> rows(Path file) throws IOException {
    return Files.readAllLines(file).stream().filter(line -> !line.startsWith("#")).toList();
  }

  private Path write(String name, List<String> lines) throws IOException {
    return Files.write(folder.resolve(name), lines);
  }

  /** The demo stand with one field of its third reading replaced. */
  private Path stand(int field, String value) throws IOException {
    List<String> lines = new ArrayList<>(rows(STAND));
    String[] f = lines.get(3).split(",", -1);
    f[field] = value;
    lines.set(3, String.join(",", f));
    return write("stand.csv", lines);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "0; -0.1; throttle must be in [0, 1]",
        "0; 1.1; throttle must be in [0, 1]",
        "1; 0; bus_v must be in (0, 2000) V",
        "1; 2000; bus_v must be in (0, 2000) V",
        "2; -2000; bus_a must be under 2000 A",
        "3; 1e6; thrust_g must be under 1e6 g"
      })
  void aReadingThatCannotBeIsNamed(int field, String value, String rule) throws IOException {
    Path file = stand(field, value);
    Cli run = Cli.run("fit", "rotor", file, "--craft", Cli.STILT);
    assertEquals(3, run.status);
    String start = file + " line 4: " + rule + ": ";
    assertTrue(run.err.startsWith(start), run.err);
  }

  @Test
  void aStandWithTooFewTurningRowsIsRefused() throws IOException {
    Path file = write("few.csv", rows(STAND).subList(0, 4));
    Cli run = Cli.run("fit", "rotor", file, "--craft", Cli.STILT);
    assertEquals(3, run.status);
    assertTrue(run.err.contains("rows with turning rotors are required: 2"), run.err);
  }

  /** Nothing weighed: the motor is told, the hover point is not, and no profile is written. */
  @Test
  void withoutThrustThereIsNoHoverPoint() throws IOException {
    List<String> lines =
        rows(STAND).stream().map(row -> row.substring(0, row.lastIndexOf(','))).toList();
    Path file = write("unweighed.csv", lines);
    Cli run = Cli.run("fit", "rotor", file, "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("The readings have no thrust_g, so no hover point"), run.out);
    Path out = folder.resolve("lines.properties");
    Cli refused = Cli.run("fit", "rotor", file, "--craft", Cli.STILT, "--out", out);
    assertEquals(2, refused.status);
    assertTrue(refused.err.startsWith("--out needs thrust_g in the readings"), refused.err);
    assertFalse(Files.exists(out));
    Path into = Files.copy(Cli.STILT, folder.resolve("craft.properties"));
    Cli left = Cli.run("fit", "rotor", file, "--craft", into, "--into", into);
    assertEquals(2, left.status);
    assertTrue(left.err.startsWith("--into needs thrust_g in the readings"), left.err);
    assertEquals(Files.readString(Cli.STILT), Files.readString(into));
  }

  @Test
  void twoWeighedRowsAreTooFewForALaw() throws IOException {
    List<String> lines = new ArrayList<>(rows(STAND));
    for (int i = 1; i < lines.size() - 2; i++) {
      lines.set(i, lines.get(i).substring(0, lines.get(i).lastIndexOf(',') + 1));
    }
    Cli run = Cli.run("fit", "rotor", write("two.csv", lines), "--craft", Cli.STILT);
    assertEquals(3, run.status);
    assertTrue(run.err.contains("different rows with thrust_g > 0 are required: 2"), run.err);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "irradiance_w_m2; 9; irradiance_w_m2 must be in [10, 2500]",
        "irradiance_w_m2; 2501; irradiance_w_m2 must be in [10, 2500]",
        "cell_c; -51; cell_c must be in [-50, 130]",
        "cell_c; 131; cell_c must be in [-50, 130]"
      })
  void aSweepsLightAndHeatAreThoseOfTheEarth(String column, String value, String rule)
      throws IOException {
    List<String> lines = new ArrayList<>(rows(SWEEP));
    for (int i = 0; i < lines.size(); i++) {
      lines.set(i, lines.get(i) + "," + (i == 0 ? column : i == 5 ? value : "25"));
    }
    Path file = write("sweep.csv", lines);
    Cli run = Cli.run("fit", "array", file, "--series", 48);
    assertEquals(3, run.status);
    assertTrue(run.err.startsWith(file + " line 6: " + rule + ": "), run.err);
  }

  @Test
  void aSweepGoesIntoAProfileThatIsThere() throws IOException {
    Path none = folder.resolve("none.properties");
    Cli missing = Cli.run("fit", "array", SWEEP, "--series", 48, "--into", none);
    assertEquals(3, missing.status);
    assertTrue(
        missing.err.contains("no such file: write a first profile with margin init"), missing.err);
  }

  @Test
  void severalFaultsOfAChangedProfileAreOneReadableLine() throws IOException {
    Path empty = Files.writeString(folder.resolve("empty.properties"), "craft.name = Empty\n");
    Cli run = Cli.run("fit", "array", SWEEP, "--series", 48, "--into", empty);
    assertEquals(3, run.status, run.err);
    assertEquals(1, run.err.lines().count(), run.err);
    assertTrue(run.err.contains("]; "), run.err);
    assertFalse(run.err.contains("?"), run.err);
    assertEquals("craft.name = Empty\n", Files.readString(empty));
  }
}
