package org.solarmargin.cli.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;

class TrialCommandTest {

  @TempDir private Path folder;

  private Cli trial(String name, Object... more) {
    Object[] args = {
      "trial",
      Cli.EXAMPLES.resolve("scenarios/fast-edge.properties"),
      "--craft",
      Cli.STILT,
      "--flights",
      2,
      "--out",
      folder.resolve(name + ".csv"),
      "--report",
      folder.resolve(name + ".html")
    };
    Object[] all = new Object[args.length + more.length];
    System.arraycopy(args, 0, all, 0, args.length);
    System.arraycopy(more, 0, all, args.length, more.length);
    Cli run = Cli.run(all);
    assertEquals(0, run.status, run.err);
    return run;
  }

  private String read(String file) throws IOException {
    return Files.readString(folder.resolve(file));
  }

  @Test
  void drawnLoggersAreReproducibleAndReported() throws IOException {
    Cli one = trial("one", "--logger", "--threads", 1);
    Cli two = trial("two", "--logger", "--threads", 2);
    assertEquals(one.out, two.out);
    assertEquals(read("one.csv"), read("two.csv"));
    assertTrue(
        one.out.startsWith("Craft Stilt, seed 1, simulated flights, loggers drawn"), one.out);
    assertTrue(read("one.html").contains("seed 1, loggers drawn"));
    Cli other = trial("other", "--logger", "--seed", 2);
    assertNotEquals(one.out, other.out);
  }

  @Test
  void withoutTheSwitchNoLoggerIsDrawn() throws IOException {
    Cli plain = trial("plain");
    assertFalse(plain.out.contains("logger"), plain.out);
    assertFalse(read("plain.html").contains("loggers drawn"));
    trial("drawn", "--logger");
    assertNotEquals(read("plain.csv"), read("drawn.csv"));
  }

  @Test
  void helpStatesTheRanges() {
    String help = Cli.run("trial", "--help").out.replaceAll("\\s+", " ");
    for (String range :
        new String[] {
          "filter of volts and amperes 0 to 0.3 s, up to 0.1 s apart",
          "delay of each 0 to 0.08 s",
          "fresh readings at 5 to 50 Hz",
          "rounding 0 to 0.05 V and A, and 0 to 0.01 of throttle",
          "lag of the command 0 to 0.1 s, its delay 0 to 0.06 s"
        }) {
      assertTrue(help.contains(range), range + " in " + help);
    }
  }

  /** Each figure of the tables again from the lines of the flights. */
  @Test
  void tablesAreWhatTheFlightsSay() throws IOException {
    Cli run =
        Cli.run(
            "trial",
            Cli.EXAMPLES.resolve("scenarios/fast-edge.properties"),
            Cli.EXAMPLES.resolve("scenarios/slow-fade.properties"),
            "--craft",
            Cli.STILT,
            "--flights",
            2,
            "--limiter",
            "Both",
            "--out",
            folder.resolve("all.csv"));
    assertEquals(0, run.status, run.err);
    List<String[]> flights =
        read("all.csv").lines().skip(1).map(line -> line.split(",", -1)).toList();
    assertEquals(8, flights.size());
    for (String name : List.of("fast-edge", "slow-fade")) {
      List<String[]> own =
          flights.stream().filter(f -> f[0].equals("\"" + name + ".properties\"")).toList();
      long lost = 0;
      long saved = 0;
      long broken = 0;
      for (int i = 0; i < own.size(); i += 2) {
        boolean without = !own.get(i)[4].isEmpty();
        boolean with = !own.get(i + 1)[4].isEmpty();
        lost += without ? 1 : 0;
        saved += without && !with ? 1 : 0;
        broken += !without && with ? 1 : 0;
      }
      String words =
          saved + " of " + lost + " losses became controlled descents, " + broken + " new losses;";
      assertTrue(run.out.contains(words), words + " in " + run.out);
      for (String[] flight : own) {
        boolean warned = !flight[5].isEmpty();
        assertEquals(!flight[4].isEmpty(), warned, "a loss is warned, and nothing else");
        assertTrue(Double.parseDouble(flight[9]) >= Math.abs(Double.parseDouble(flight[10])));
      }
    }
    assertTrue(run.out.contains("best fixed voltage"), run.out);
    assertTrue(run.out.contains("one for all"), run.out);
    assertTrue(run.out.lines().anyMatch(line -> line.matches("all +on +[0-9. +-]+")), run.out);
  }

  @Test
  void aFolderStandsForItsScenarios() throws IOException {
    Path scenarios = Files.createDirectory(folder.resolve("scenarios"));
    for (String name : List.of("slow-fade.properties", "fast-edge.properties")) {
      Files.copy(Cli.EXAMPLES.resolve("scenarios").resolve(name), scenarios.resolve(name));
    }
    Files.writeString(scenarios.resolve("notes.txt"), "none");
    Path csv = folder.resolve("all.csv");
    Object[] args = {
      "trial", scenarios, "--craft", Cli.STILT, "--flights", 1, "--out", csv, "--threads", 1
    };
    Cli run = Cli.run(args);
    assertEquals(0, run.status, run.err);
    List<String> flights =
        read("all.csv").lines().skip(1).map(line -> line.split(",", -1)[0]).toList();
    assertEquals(List.of("\"fast-edge.properties\"", "\"slow-fade.properties\""), flights);
    String before = read("scenarios/slow-fade.properties");
    args[7] = scenarios.resolve("slow-fade.properties");
    Cli over = Cli.run(args);
    assertEquals(2, over.status, over.err);
    assertTrue(over.err.contains("read as one of the scenarios: nothing is written"), over.err);
    assertEquals(before, read("scenarios/slow-fade.properties"));
    Cli none =
        Cli.run("trial", Files.createDirectory(folder.resolve("none")), "--craft", Cli.STILT);
    assertEquals(3, none.status, none.err);
    assertTrue(none.err.contains("no .properties file in this folder"), none.err);
  }

  @ParameterizedTest
  @CsvSource({
    "--flights, 0, --flights and --threads must be 1 or more",
    "--threads, 0, --flights and --threads must be 1 or more",
    "--limiter, perhaps, '--limiter must be on, off or both: perhaps'"
  })
  void whatCannotBeFlownIsRefused(String option, String value, String line) {
    Cli run =
        Cli.run(
            "trial",
            Cli.EXAMPLES.resolve("scenarios/fast-edge.properties"),
            "--craft",
            Cli.STILT,
            option,
            value);
    assertEquals(2, run.status);
    assertEquals(line, run.err.lines().findFirst().orElseThrow());
  }
}
