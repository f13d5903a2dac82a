package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * A full disk gives one clear line and exit status 1, keeps the old output and leaves no draft, for
 * every option that writes. Tested on a small memory disk, which requires the right to mount one,
 * and with Linux's {@code /dev/full}, which does not.
 */
class FullDiskTest {

  private static final String DISK_BYTES = "64k";
  private static final int LOSSES = 5;
  private static final String SIZED =
      "--at 50,10 --date 2026-06-21 --mass-kg 1.05 --rotors 4 --diameter-m 0.5588 --isc 6.02"
          + " --voc 0.683 --imp 5.70 --vmp 0.574";
  private static final Path FULL = Path.of("/dev/full");

  @TempDir private Path folder;

  private Path mounted;

  /**
   * An option that writes.
   *
   * @param words verb and inputs
   * @param option the option
   */
  record Output(String words, String option) {
    @Override
    public String toString() {
      return words.replaceAll(" --(craft|at) .*", "") + " " + option;
    }
  }

  static Stream<Output> outputs() {
    Stream<Output> held =
        OutputCheckTest.calls()
            .flatMap(call -> call.outputs().stream().map(o -> new Output(call.words(), o)));
    Output size = new Output("size " + SIZED, "--out");
    return Stream.concat(held, Stream.of(size));
  }

  @AfterEach
  void unmount() throws Exception {
    if (mounted != null) {
      new ProcessBuilder("umount", "-l", mounted.toString()).start().waitFor();
    }
  }

  private void mountFull() throws Exception {
    Path disk = Files.createDirectory(folder.resolve("disk"));
    String options = "size=" + DISK_BYTES;
    try {
      Process mount =
          new ProcessBuilder("mount", "-t", "tmpfs", "-o", options, "tmpfs", disk.toString())
              .redirectErrorStream(true)
              .start();
      String text = new String(mount.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      assumeTrue(mount.waitFor() == 0, "no memory disk may be mounted here: " + text);
    } catch (IOException e) {
      assumeTrue(false, "no mount command here: " + e.getMessage());
    }
    mounted = disk;
  }

  private void fill() throws IOException {
    try (OutputStream filler = Files.newOutputStream(mounted.resolve("filler"))) {
      for (; ; ) {
        filler.write(new byte[512]);
      }
    } catch (IOException e) {
      assertTrue(e.getMessage().contains("No space"), e.getMessage());
    }
  }

  private Cli run(Output output, Path target) throws IOException {
    List<Object> words = new ArrayList<>();
    // without the truth, and a tuning on enough losses that none need be simulated
    String text = output.words().replace(" --truth truth.csv", "").replace("tune log", "tune logs");
    for (String word : text.split(" ", -1)) {
      words.add(example(word));
    }
    words.addAll(List.of(output.option(), target));
    if (output.words().startsWith("simulate")) {
      String other = output.option().equals("--log") ? "--truth" : "--log";
      words.addAll(List.of(other, folder.resolve("other.csv")));
    }
    if (output.words().startsWith("trial")) {
      words.addAll(List.of("--flights", 1));
    }
    if (output.option().equals("--table")) {
      words.set(words.indexOf(example("sweep.csv")), copies("bench/array-sweep.csv", 3));
    }
    if (words.contains("logs.csv")) {
      words.set(words.indexOf("logs.csv"), copies("flights/slow-fade.csv", LOSSES));
    }
    if (words.get(0).equals("replay") || words.get(0).equals("tune")) {
      words.set(words.indexOf(Cli.STILT), Cli.timed(folder));
    }
    InputStream before = System.in;
    System.setIn(new ByteArrayInputStream(Files.readAllBytes((Path) example("log.csv"))));
    try {
      return Cli.run(words.toArray());
    } finally {
      System.setIn(before);
    }
  }

  private Path copies(String example, int count) throws IOException {
    Path copies = Files.createDirectory(folder.resolve("copies"));
    for (int i = 0; i < count; i++) {
      Files.copy(Cli.EXAMPLES.resolve(example), copies.resolve(i + ".csv"));
    }
    return copies;
  }

  private Object example(String word) throws IOException {
    return switch (word) {
      case "log.csv" -> datedLog();
      case "craft.properties" -> Cli.STILT;
      case "calm.properties" -> Cli.EXAMPLES.resolve("scenarios/calm-hover.properties");
      case "sweep.csv" -> Cli.EXAMPLES.resolve("bench/array-sweep.csv");
      case "stand.csv" -> Cli.EXAMPLES.resolve("bench/rotor-stand.csv");
      default -> word;
    };
  }

  /** A log that states when it was flown. */
  private Path datedLog() throws IOException {
    Path log = folder.resolve("log.csv");
    if (!Files.exists(log)) {
      String flight = Files.readString(Cli.EXAMPLES.resolve("flights/cloud-passage.csv"));
      Files.writeString(log, "# start: 2026-06-21T12:00:00Z\n" + flight);
    }
    return log;
  }

  @ParameterizedTest
  @MethodSource("outputs")
  void aFullDiskGivesOneLineAndKeepsTheOldOutput(Output output) throws Exception {
    mountFull();
    Path target = mounted.resolve("output");
    boolean inPlace = output.option().equals("--into");
    boolean fresh = output.words().startsWith("watch");
    byte[] old = inPlace ? Files.readAllBytes(Cli.STILT) : "old\n".getBytes(StandardCharsets.UTF_8);
    if (!fresh) {
      Files.write(target, old);
    }
    fill();
    Cli run = run(output, target);
    assertReported(run, target);
    if (!fresh) {
      assertEquals(Arrays.toString(old), Arrays.toString(Files.readAllBytes(target)));
    }
    try (Stream<Path> files = Files.list(mounted)) {
      assertEquals(
          List.of(),
          files.filter(file -> file.getFileName().toString().endsWith(".part")).toList());
    }
  }

  private static void assertReported(Cli run, Path target) {
    assertEquals(1, run.status, run.out + run.err);
    assertEquals(1, run.err.lines().count(), run.err);
    assertTrue(run.err.contains("No space left on device"), run.err);
    assertTrue(run.err.contains(target.toString()), run.err);
  }

  @ParameterizedTest
  @MethodSource("outputs")
  void aFullDeviceGivesOneLine(Output output) throws Exception {
    assumeTrue(Files.isWritable(FULL), "no /dev/full here");
    assumeTrue(!output.option().equals("--into"), "a device is not a profile");
    assumeTrue(!output.words().startsWith("watch"), "a watch only writes new files");
    assertReported(run(output, FULL), FULL);
  }
}
