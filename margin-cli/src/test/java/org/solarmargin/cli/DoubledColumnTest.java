package org.solarmargin.cli;

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
import org.junit.jupiter.params.provider.ValueSource;

/** A column that occurs twice in a table is refused with both positions, if the column is read. */
class DoubledColumnTest {

  private static final Path CLOUD = Cli.EXAMPLES.resolve("flights/cloud-passage.csv");
  private static final Path SWEEP = Cli.EXAMPLES.resolve("bench/array-sweep.csv");
  private static final Path STAND = Cli.EXAMPLES.resolve("bench/rotor-stand.csv");
  private static final Path CALM = Cli.EXAMPLES.resolve("scenarios/calm-hover.properties");

  @TempDir private Path folder;

  /** A copy with an additional column at the end, with a number in every line. */
  private Path with(Path table, String column) throws IOException {
    List<String> lines = new ArrayList<>(Files.readAllLines(table));
    boolean header = true;
    for (int i = 0; i < lines.size(); i++) {
      if (!lines.get(i).startsWith("#")) {
        lines.set(i, lines.get(i) + "," + (header ? column : "1"));
        header = false;
      }
    }
    return Files.write(folder.resolve(table.getFileName()), lines);
  }

  private static void assertRefused(String words, Object... args) {
    Cli run = Cli.run(args);
    assertEquals(3, run.status, run.out + run.err);
    assertEquals(1, run.err.lines().count(), run.err);
    assertTrue(run.err.contains(words), run.err);
  }

  @ParameterizedTest
  @ValueSource(strings = {"time_s,1", "bus_v,2", "bus_a,3", "throttle,4", "height_m,5"})
  void inALog(String columnAndPlace) throws IOException {
    String column = columnAndPlace.substring(0, columnAndPlace.length() - 2);
    String place = columnAndPlace.substring(columnAndPlace.length() - 1);
    assertRefused(
        "cloud-passage.csv line 1: column "
            + column
            + " occurs twice, as fields "
            + place
            + " and 6 of the header: rename or remove one",
        "replay",
        with(CLOUD, " " + column),
        "--craft",
        Cli.STILT);
  }

  @Test
  void ofALogWithAMappedName() throws IOException {
    Path log = with(with(CLOUD, "V"), "V");
    assertRefused(
        "column V occurs twice, as fields 6 and 7",
        "replay",
        log,
        "--craft",
        Cli.STILT,
        "--column",
        "bus_v=V");
    Cli unread = Cli.run("replay", log, "--craft", Cli.STILT);
    assertEquals(0, unread.status, "a column that is not read may occur twice");
  }

  @Test
  void inBenchTables() throws IOException {
    assertRefused(
        "array-sweep.csv line 2: column current_a occurs twice, as fields 2 and 3",
        "fit",
        "array",
        with(SWEEP, "current_a"),
        "--series",
        "48");
    assertRefused(
        "column cell_c occurs twice, as fields 3 and 4",
        "fit",
        "array",
        with(with(SWEEP, "cell_c"), "cell_c"),
        "--series",
        "48");
    assertRefused(
        "column thrust_g occurs twice, as fields 4 and 5",
        "fit",
        "rotor",
        with(STAND, "thrust_g"),
        "--craft",
        Cli.STILT);
  }

  @Test
  void inATruthOrARecording() throws IOException {
    Path truth =
        Files.writeString(folder.resolve("t.csv"), "time_s,available_w,available_w\n0,1,1\n");
    assertRefused(
        "t.csv line 1: column available_w occurs twice, as fields 2 and 3",
        "replay",
        CLOUD,
        "--craft",
        Cli.STILT,
        "--truth",
        truth);
    Files.writeString(
        folder.resolve("sky.csv"), "time_s,irradiance_w_m2,irradiance_w_m2\n0,900,900\n");
    Path scenario = folder.resolve("recorded.properties");
    Files.writeString(
        scenario,
        Files.readString(CALM).replaceAll("(?m)^sky\\..*$", "")
            + "\nsky.kind = recording\nsky.file = sky.csv\n");
    assertRefused(
        "sky.csv: column irradiance_w_m2 is there twice, as fields 2 and 3",
        "trial",
        scenario,
        "--craft",
        Cli.STILT,
        "--flights",
        1);
  }
}
