package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.Main;

/**
 * Kills a watch at random moments, as a loss of power would: replay reads its log, and at most the
 * last second of the displayed data is missing. {@code -Dmargin.kills=100} kills it more often.
 */
class KilledWatchTest {

  private static final int KILLS = Integer.getInteger("margin.kills", 10);
  private static final int AT_ONCE = 5;
  private static final double STEP = 0.02;

  @TempDir private Path folder;

  private record Killed(double shown, List<String> log, Path file) {}

  private Path craft() throws IOException {
    return Files.writeString(
        folder.resolve("craft.properties"),
        Files.readString(Cli.STILT) + "\nsensor.current_step_a = 0.01\n");
  }

  private Killed watchAndKill(Path craft, int number, List<String> rows) throws Exception {
    Path log = folder.resolve("log" + number + ".csv");
    Path state = folder.resolve("state" + number);
    Process process =
        new ProcessBuilder(
                ProcessHandle.current().info().command().orElse("java"),
                "-Xmx128m",
                "-XX:TieredStopAtLevel=1",
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName(),
                "watch",
                "--craft",
                craft.toString(),
                "--from",
                "-",
                "--json",
                "--log",
                log.toString(),
                "--state",
                state.toString())
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    Random random = new Random(number);
    List<String> shown = new ArrayList<>();
    Thread reader = new Thread(() -> read(process.inputReader(), shown));
    reader.start();
    try (OutputStream in = process.getOutputStream()) {
      in.write("time_s,bus_v,bus_a,throttle\n".getBytes(StandardCharsets.UTF_8));
      long start = System.nanoTime();
      long until = Long.MAX_VALUE;
      for (int i = 0; i < rows.size() && System.nanoTime() < until; i++) {
        in.write((rows.get(i) + "\n").getBytes(StandardCharsets.UTF_8));
        in.flush();
        long due = start + Math.round(i * STEP * 1e9);
        Thread.sleep(Math.max(0, (due - System.nanoTime()) / 1_000_000));
        synchronized (shown) {
          // a random moment after its first line of output
          until =
              until == Long.MAX_VALUE && !shown.isEmpty()
                  ? System.nanoTime() + random.nextInt(2_500) * 1_000_000L
                  : until;
        }
      }
      process.destroyForcibly().waitFor();
    } catch (IOException e) {
      // the pipe is broken: killed
    }
    reader.join();
    String last = shown.get(shown.size() - 1);
    double time = Double.parseDouble(last.replaceFirst(".*\"time_s\":([0-9.]+).*", "$1"));
    return new Killed(time, Files.readAllLines(log), log);
  }

  private static void read(BufferedReader lines, List<String> shown) {
    try (lines) {
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        if (line.endsWith("}") && line.contains("time_s")) {
          synchronized (shown) {
            shown.add(line);
          }
        }
      }
    } catch (IOException e) {
      // killed in the middle of a line
    }
  }

  @Test
  void theLogIsReadToTheLastSecond() throws Exception {
    Path craft = craft();
    List<String> rows =
        Files.readAllLines(Cli.EXAMPLES.resolve("flights/gusty-hover.csv")).stream()
            .filter(line -> line.matches("[0-9].*"))
            .toList();
    for (int i = 0; i < KILLS; i += AT_ONCE) {
      List<Killed> all =
          Stream.iterate(i, n -> n + 1)
              .limit(Math.min(AT_ONCE, KILLS - i))
              .parallel()
              .map(number -> unchecked(craft, number, rows))
              .toList();
      for (Killed one : all) {
        judge(craft, one);
      }
    }
  }

  private Killed unchecked(Path craft, int number, List<String> rows) {
    try {
      return watchAndKill(craft, number, rows);
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }

  private void judge(Path craft, Killed one) throws IOException {
    Path estimates = folder.resolve("estimates.csv");
    Cli replay = Cli.run("replay", one.file(), "--craft", craft, "--estimates", estimates);
    // 3: replay reports by this that a log is readable but too short for figures
    assertTrue(replay.status == 0 || replay.status == 3, replay.err);
    List<String> replayed = Files.readAllLines(estimates);
    double end = seconds(replayed.get(replayed.size() - 1));
    assertTrue(one.shown() - end <= 1, "shown to " + one.shown() + " s, on the disk to " + end);
    // replay and watch give the same estimates: checked on the last complete line and the one
    // before
    for (int line : new int[] {replayed.size() - 1, replayed.size() / 2}) {
      String[] seen = one.log().get(line).split(",", -1);
      String[] again = replayed.get(line).split(",", -1);
      assertEquals(seen[5], again[1]);
      if (!seen[6].isEmpty()) {
        assertEquals(Double.parseDouble(seen[6]), Double.parseDouble(again[2]), 0.0051);
      }
    }
  }

  private static double seconds(String line) {
    return Double.parseDouble(line.substring(0, line.indexOf(',')));
  }
}
