package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Number formats specific to Java are refused wherever a number is read. */
class PlainNumbersTest {

  private static final Path CLOUD = Cli.EXAMPLES.resolve("flights/cloud-passage.csv");
  private static final Path SWEEP = Cli.EXAMPLES.resolve("bench/array-sweep.csv");
  private static final Path STAND = Cli.EXAMPLES.resolve("bench/rotor-stand.csv");

  @TempDir private Path folder;

  private Path changed(Path example, int line, String to) throws IOException {
    List<String> lines = new ArrayList<>(Files.readAllLines(example));
    lines.set(line - 1, to);
    return Files.write(folder.resolve(example.getFileName()), lines);
  }

  private static void assertRefused(int status, String words, Object... args) {
    Cli run = Cli.run(args);
    assertEquals(status, run.status, run.out + run.err);
    assertTrue(run.err.contains(words), run.err);
  }

  @ParameterizedTest
  @ValueSource(strings = {"29d", "3f", "2.9D", "3F", "0x1p4", "0X1P4", "29d "})
  void inTables(String number) throws IOException {
    Cli log =
        Cli.run(
            "replay",
            changed(CLOUD, 3, "0.020," + number + ",2.870,0.5032,10.00"),
            "--craft",
            Cli.STILT);
    assertEquals(0, log.status, log.err);
    String text = log.out.replaceAll("\\s+", " ");
    assertTrue(
        text.contains("line 3: bus_v must be a number or empty: " + number.strip()), log.out);
    Path truth =
        Files.writeString(folder.resolve("truth.csv"), "time_s,available_w\n0," + number + "\n");
    assertRefused(
        3,
        "truth.csv line 2: must be a number or empty: " + number,
        "replay",
        CLOUD,
        "--craft",
        Cli.STILT,
        "--truth",
        truth);
    assertRefused(
        3,
        "array-sweep.csv line 4: voltage_v must be a number: " + number.strip(),
        "fit",
        "array",
        changed(SWEEP, 4, number + ",5.4310"),
        "--series",
        "48");
    assertRefused(
        3,
        "rotor-stand.csv line 4: bus_v must be a number: " + number.strip(),
        "fit",
        "rotor",
        changed(STAND, 4, "0.20," + number + ",0.075,64.5"),
        "--craft",
        Cli.STILT);
  }

  @ParameterizedTest
  @ValueSource(strings = {"5d", "3f", "0x1p3"})
  void onTheCommandLine(String number) {
    assertRefused(2, "'" + number + "'", "tune", CLOUD, "--craft", Cli.STILT, "--lead", number);
    assertRefused(
        2, "'" + number + "'", "fit", "array", SWEEP, "--series", "48", "--cell-c", number);
    assertRefused(
        2, "--event must be TIME", "tune", CLOUD, "--craft", Cli.STILT, "--event", number);
    assertRefused(
        2, "--strike must be TIME", "tune", CLOUD, "--craft", Cli.STILT, "--strike", "a@" + number);
    assertRefused(
        2, "'" + number + "'", "fit", "resistor", "--craft", Cli.STILT, "--ohms", "3," + number);
  }
}
