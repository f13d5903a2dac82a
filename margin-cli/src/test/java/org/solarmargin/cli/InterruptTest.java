package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Ctrl-C: partial results are printed and written, and marked as partial everywhere. */
class InterruptTest {

  private static final int SIGINT = 2;
  private static final int LONGEST_SECONDS = 60;

  @TempDir private Path folder;

  @BeforeEach
  void signalsCanBeSent() throws IOException {
    Assumptions.assumeTrue(
        Files.isExecutable(Path.of("/bin/kill")),
        "there is no /bin/kill, so no signal can be sent");
    Assumptions.assumeFalse(
        interruptsIgnored(), "this process ignores SIGINT, and so do those that it starts");
  }

  /** Programs that a shell starts in the background ignore SIGINT; only Linux tells. */
  private static boolean interruptsIgnored() throws IOException {
    Path status = Path.of("/proc/self/status");
    if (!Files.isReadable(status)) {
      return false;
    }
    try (Stream<String> lines = Files.lines(status)) {
      return lines
          .filter(line -> line.startsWith("SigIgn:"))
          .map(line -> line.substring(line.indexOf(':') + 1).strip())
          .anyMatch(mask -> (Long.parseUnsignedLong(mask, 16) & (1L << (SIGINT - 1))) != 0);
    }
  }

  /** Runs the command, interrupts it after a while, and returns its output. */
  private String interrupted(double afterSeconds, Object... args) throws Exception {
    List<String> words = new ArrayList<>();
    words.add(ProcessHandle.current().info().command().orElse("java"));
    words.addAll(List.of("-cp", System.getProperty("java.class.path"), Main.class.getName()));
    for (Object arg : args) {
      words.add(arg.toString());
    }
    Path out = folder.resolve("out.txt");
    Process process =
        new ProcessBuilder(words).redirectOutput(out.toFile()).redirectErrorStream(true).start();
    assertFalse(process.waitFor(Math.round(afterSeconds * 1000), TimeUnit.MILLISECONDS));
    new ProcessBuilder("/bin/kill", "-INT", String.valueOf(process.pid())).start().waitFor();
    if (!process.waitFor(LONGEST_SECONDS, TimeUnit.SECONDS)) {
      process.destroyForcibly();
      throw new IOException("still running after " + LONGEST_SECONDS + " s");
    }
    return Files.readString(out);
  }

  @Test
  void aTrialIsMarkedPartialInTextTableAndPage() throws Exception {
    Path csv = folder.resolve("trial.csv");
    Path page = folder.resolve("trial.html");
    String output =
        interrupted(
            2.5,
            "trial",
            Cli.EXAMPLES.resolve("scenarios/fast-edge.properties"),
            "--craft",
            Cli.STILT,
            "--flights",
            20_000,
            "--out",
            csv,
            "--report",
            page);
    assertTrue(output.contains("PARTIAL: stopped after "), output);
    assertTrue(output.contains(" of 20000 flights"), output);
    assertTrue(Files.readString(csv).startsWith("# PARTIAL: stopped after "));
    assertTrue(Files.readString(page).contains("PARTIAL: stopped after "));
  }

  @Test
  void anInterruptedTuningWritesNoProfile() throws Exception {
    Path logs = Files.createDirectory(folder.resolve("logs"));
    for (int i = 0; i < 300; i++) {
      Files.copy(Cli.EXAMPLES.resolve("flights/slow-fade.csv"), logs.resolve("fade" + i + ".csv"));
    }
    Path tuned = folder.resolve("tuned.properties");
    Path page = folder.resolve("tuned.html");
    String output =
        interrupted(4, "tune", logs, "--craft", Cli.STILT, "--out", tuned, "--report", page);
    assertTrue(output.contains("PARTIAL: stopped after "), output);
    assertTrue(output.contains("not written: stopped after "), output);
    assertFalse(Files.exists(tuned));
    assertTrue(Files.readString(page).contains("PARTIAL: stopped after "));
  }
}
