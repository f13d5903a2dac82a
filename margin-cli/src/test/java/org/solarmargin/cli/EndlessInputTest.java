package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Endless inputs are refused with one clear line, in little memory. */
class EndlessInputTest {

  private static final Path CLOUD = Cli.EXAMPLES.resolve("flights/cloud-passage.csv");
  private static final Path CALM = Cli.EXAMPLES.resolve("scenarios/calm-hover.properties");
  private static final String TOO_LONG = "is longer than 65536 bytes: no .properties file";

  @TempDir private Path folder;

  private interface Content {
    void write(BufferedWriter to) throws IOException;
  }

  private Path file(String name, Content content) throws IOException {
    Path file = folder.resolve(name);
    try (BufferedWriter to = Files.newBufferedWriter(file)) {
      content.write(to);
    }
    return file;
  }

  private void assertOneLine(String words, Object... args) throws Exception {
    ForkedCli run = ForkedCli.run(folder, args);
    assertEquals(3, run.status(), run.err());
    assertEquals(1, run.err().lines().count(), run.err());
    assertTrue(run.err().contains(words), run.err());
    assertEquals("", run.out());
  }

  @Test
  void aProfileOfOneEndlessLine() throws Exception {
    Path line =
        file(
            "line.properties",
            to -> {
              to.write("craft.name = ");
              for (int i = 0; i < 100_000; i++) {
                to.write("x".repeat(1000));
              }
            });
    assertOneLine(TOO_LONG, "replay", CLOUD, "--craft", line);
    assertOneLine(TOO_LONG, "compare", Cli.STILT, line, CLOUD);
    assertOneLine(TOO_LONG, "trial", line, "--craft", Cli.STILT);
    assertOneLine(TOO_LONG, "fit", "logger", CLOUD, "--craft", Cli.STILT, "--into", line);
  }

  @Test
  void aProfileOfMillionsOfKeys() throws Exception {
    Path keys =
        file(
            "keys.properties",
            to -> {
              for (int i = 0; i < 3_000_000; i++) {
                to.write("a=1\n");
              }
            });
    assertOneLine(TOO_LONG, "replay", CLOUD, "--craft", keys);
  }

  @Test
  void aProfileFullOfFaultsReportsTheFirstTen() throws Exception {
    Path keys =
        file(
            "keys.properties",
            to -> {
              for (int i = 0; i < 6000; i++) {
                to.write("k" + (1000 + i) + "=1\n");
              }
            });
    Cli run = Cli.run("replay", CLOUD, "--craft", keys);
    assertEquals(3, run.status);
    assertEquals(11, run.err.lines().count(), run.err);
    assertTrue(
        run.err.strip().matches("(?s).*: and 59[0-9]{2} more faults: is this the right file\\?"),
        run.err);
  }

  @Test
  void aDeviceWithoutEnd() throws Exception {
    Path zero = Path.of("/dev/zero");
    assumeTrue(Files.exists(zero));
    assertOneLine(TOO_LONG, "replay", CLOUD, "--craft", zero);
    assertOneLine(
        TOO_LONG,
        "simulate",
        zero,
        "--craft",
        Cli.STILT,
        "--log",
        folder.resolve("l"),
        "--truth",
        folder.resolve("t"));
    String binary = "/dev/zero: is binary data: give a ";
    assertOneLine(binary, "replay", zero, "--craft", Cli.STILT);
    assertOneLine(binary, "fit", "array", zero, "--series", "48");
    assertOneLine(binary, "fit", "rotor", zero, "--craft", Cli.STILT);
  }

  @Test
  void aTableOfHundredsOfThousandsOfRows() throws Exception {
    Path sweep =
        file(
            "sweep.csv",
            to -> {
              to.write("voltage_v,current_a\n");
              for (int i = 0; i < 300_000; i++) {
                to.write(i + ",1\n");
              }
            });
    String most = "has more than 5000 rows, the most that are read: thin it out or divide it";
    assertOneLine(most, "fit", "array", sweep, "--series", "48");
    assertOneLine(most, "fit", "cell", "--craft", Cli.STILT, sweep);
    Path stand =
        file(
            "stand.csv",
            to -> {
              to.write("throttle,bus_v,bus_a\n");
              for (int i = 0; i < 300_000; i++) {
                to.write("0.5,20,1\n");
              }
            });
    assertOneLine(most, "fit", "rotor", stand, "--craft", Cli.STILT);
  }

  @Test
  void aRecordingOfMillionsOfRows() throws Exception {
    file(
        "sky.csv",
        to -> {
          to.write("time_s,irradiance_w_m2\n");
          for (int i = 0; i < 3_000_000; i++) {
            to.write(i + ",900\n");
          }
        });
    Path scenario = folder.resolve("recorded.properties");
    Files.writeString(
        scenario,
        Files.readString(CALM).replaceAll("(?m)^sky\\..*$", "")
            + "\nsky.kind = recording\nsky.file = sky.csv\n");
    assertOneLine("has more than 864000 rows", "trial", scenario, "--craft", Cli.STILT);
  }
}
