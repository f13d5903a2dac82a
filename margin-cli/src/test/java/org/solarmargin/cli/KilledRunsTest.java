package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A run that is killed at a random moment (SIGKILL, which no program can catch) leaves each output
 * either unchanged or complete, never partial; the next run removes the drafts that it left. {@code
 * -Dmargin.kills=200} selects the long test.
 */
class KilledRunsTest {

  private static final int USUAL = 12;
  private static final byte[] OLD = "# an older output\n".getBytes(StandardCharsets.UTF_8);
  private static final long LONGEST_NANOS = TimeUnit.SECONDS.toNanos(60);

  @TempDir private Path folder;

  /** A verb with its outputs, and their contents before and after the run. */
  private final class Job {
    private final List<Object> words;
    private final Map<Path, byte[]> before = new LinkedHashMap<>();
    private final Map<Path, byte[]> after = new LinkedHashMap<>();
    private long nanos;

    Job(Object... words) {
      this.words = new ArrayList<>(List.of(words));
    }

    /** Adds options that write, each with the name of its file. */
    Job and(String... optionsAndNames) {
      for (int i = 0; i < optionsAndNames.length; i += 2) {
        words.add(optionsAndNames[i]);
        words.add(folder.resolve(optionsAndNames[i + 1]));
        output(optionsAndNames[i + 1], OLD);
      }
      return this;
    }

    Job output(String name, byte[] old) {
      before.put(folder.resolve(name), old);
      return this;
    }

    /** Runs undisturbed to determine the expected outputs and the approximate duration. */
    void measure() throws Exception {
      putOld();
      long start = System.nanoTime();
      assertEquals(0, process().waitFor(), words.toString());
      nanos = System.nanoTime() - start;
      for (Path output : before.keySet()) {
        after.put(output, Files.readAllBytes(output));
      }
    }

    void putOld() throws IOException {
      for (var output : before.entrySet()) {
        Files.write(output.getKey(), output.getValue());
      }
    }

    Process process() throws IOException {
      List<String> command = new ArrayList<>();
      command.add(ProcessHandle.current().info().command().orElse("java"));
      command.addAll(List.of("-XX:TieredStopAtLevel=1", "-cp"));
      command.addAll(List.of(System.getProperty("java.class.path"), Main.class.getName()));
      words.forEach(word -> command.add(word.toString()));
      return new ProcessBuilder(command)
          .redirectOutput(folder.resolve("out.txt").toFile())
          .redirectErrorStream(true)
          .start();
    }

    /** Kills a run and returns whether it left a draft. */
    boolean killed(Random random) throws Exception {
      putOld();
      Process process = process();
      long left = (long) (1.1 * nanos * random.nextDouble());
      if (random.nextBoolean()) {
        // while outputs are being written
        long start = System.nanoTime();
        while (process.isAlive()
            && drafts(process).isEmpty()
            && System.nanoTime() - start < LONGEST_NANOS) {
          Thread.onSpinWait();
        }
        left = (long) (0.1 * nanos * Math.pow(random.nextDouble(), 3));
      }
      process.waitFor(left, TimeUnit.NANOSECONDS);
      process.destroyForcibly().waitFor();
      boolean drafted = !drafts(process).isEmpty();
      for (Path output : before.keySet()) {
        byte[] found = Files.readAllBytes(output);
        assertTrue(
            Arrays.equals(found, before.get(output)) || Arrays.equals(found, after.get(output)),
            () -> output + " is neither the old nor the new file: " + found.length + " bytes");
      }
      return drafted;
    }

    void nextRunCleansUp() throws Exception {
      putOld();
      assertEquals(0, process().waitFor(), words.toString());
      for (Path output : before.keySet()) {
        assertArrayEquals(after.get(output), Files.readAllBytes(output), output.toString());
      }
    }
  }

  private List<Path> drafts() throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      return files.filter(file -> file.toString().endsWith(".part")).toList();
    }
  }

  private List<Path> drafts(Process process) throws IOException {
    String end = "." + process.pid() + ".part";
    return drafts().stream().filter(file -> file.toString().endsWith(end)).toList();
  }

  private Path at(String name) {
    return folder.resolve(name);
  }

  /** A demo flight repeated several times, so that writing takes a while. */
  private Path longLog() throws IOException {
    List<String> lines = Files.readAllLines(Cli.EXAMPLES.resolve("flights/gusty-hover.csv"));
    List<String> rows = lines.stream().filter(line -> !line.startsWith("#")).toList();
    int time = Arrays.asList(rows.get(0).split(",", -1)).indexOf("time_s");
    assertEquals(0, time, "the demo flight begins with its time");
    StringBuilder text = new StringBuilder(rows.get(0)).append('\n');
    double last = Double.parseDouble(rows.get(rows.size() - 1).split(",", -1)[0]);
    for (int i = 0; i < 12; i++) {
      for (String row : rows.subList(1, rows.size())) {
        int comma = row.indexOf(',');
        double seconds = Double.parseDouble(row.substring(0, comma)) + i * (last + 0.02);
        text.append(String.format(Locale.ROOT, "%.3f", seconds));
        text.append(row, comma, row.length()).append('\n');
      }
    }
    return Files.writeString(at("long.csv"), text);
  }

  private List<Job> jobs() throws IOException {
    byte[] craft = Files.readAllBytes(Cli.STILT);
    Path timed = Cli.timed(folder);
    // enough losses that none need be simulated
    Path fades = Files.createDirectory(at("fades"));
    for (int i = 0; i < 5; i++) {
      Files.copy(Cli.EXAMPLES.resolve("flights/slow-fade.csv"), fades.resolve(i + ".csv"));
    }
    return List.of(
        new Job("replay", longLog(), "--craft", timed)
            .and("--estimates", "e.csv", "--alerts", "a.csv", "--report", "r.html"),
        new Job("tune", fades, "--craft", timed)
            .and("--out", "tuned.properties", "--report", "tune.html"),
        new Job(
                "trial",
                Cli.EXAMPLES.resolve("scenarios/fast-edge.properties"),
                "--craft",
                Cli.STILT,
                "--flights",
                4)
            .and("--out", "trial.csv", "--report", "trial.html"),
        new Job(
                "fit",
                "array",
                Cli.EXAMPLES.resolve("bench/array-sweep.csv"),
                "--series",
                48,
                "--irradiance",
                910,
                "--cell-c",
                41,
                "--into",
                at("craft.properties"))
            .output("craft.properties", craft)
            .and("--out", "fit.properties", "--plot", "fit.png", "--report", "fit.html"));
  }

  @Test
  void outputsAreOldOrNewButNeverPartial() throws Exception {
    int kills = Integer.getInteger("margin.kills", USUAL);
    List<Job> jobs = jobs();
    for (Job job : jobs) {
      job.measure();
    }
    Random random = new Random(14);
    int drafted = 0;
    for (int i = 0; i < kills; i++) {
      drafted += jobs.get(i % jobs.size()).killed(random) ? 1 : 0;
    }
    System.out.println(drafted + " of " + kills + " killed runs left drafts");
    for (Job job : jobs) {
      job.nextRunCleansUp();
    }
    assertEquals(List.of(), drafts(), "left after the next runs");
  }
}
