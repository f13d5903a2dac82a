package org.solarmargin.cli.file;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.Main;

/** Effects of outputs on files, links, devices and pipes. */
class AtomicFileTest {

  @TempDir private Path folder;

  private static void write(Path target, String text) throws IOException {
    AtomicFile.write(target, file -> file.writer().write(text));
  }

  private List<String> names() throws IOException {
    try (var files = Files.list(folder)) {
      return files.map(file -> file.getFileName().toString()).sorted().toList();
    }
  }

  @Test
  void aLinkIsKeptAndItsTargetReplaced() throws IOException {
    Path far = Files.createDirectory(folder.resolve("far"));
    Path file = Files.writeString(far.resolve("file.csv"), "old");
    Path link = Files.createSymbolicLink(folder.resolve("link.csv"), Path.of("far/file.csv"));
    Path second = Files.createSymbolicLink(folder.resolve("second.csv"), link);
    write(second, "new");
    assertTrue(Files.isSymbolicLink(second) && Files.isSymbolicLink(link));
    assertEquals("new", Files.readString(file));
    assertThrows(
        IOException.class,
        () ->
            AtomicFile.write(
                second,
                half -> {
                  half.writer().write("half");
                  throw new IOException("disk full");
                }));
    assertEquals("new", Files.readString(file), "the old content is complete");
    assertEquals(List.of("far", "link.csv", "second.csv"), names());
  }

  @Test
  void aFileThatIsReplacedKeepsItsPermissions() throws IOException {
    Path file = Files.writeString(folder.resolve("file.csv"), "old");
    assumeTrue(Files.getFileStore(file).supportsFileAttributeView("posix"));
    for (String permissions : List.of("rw-------", "rw-rw-r--")) {
      Files.setPosixFilePermissions(file, PosixFilePermissions.fromString(permissions));
      write(file, "new");
      assertEquals(permissions, PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
    }
  }

  @Test
  void aLinkToAMissingFileCreatesIt() throws IOException {
    Path link = Files.createSymbolicLink(folder.resolve("link.csv"), Path.of("file.csv"));
    write(link, "new");
    assertTrue(Files.isSymbolicLink(link));
    assertEquals("new", Files.readString(folder.resolve("file.csv")));
  }

  @Test
  void aCycleOfLinksIsReported() throws IOException {
    Path link = Files.createSymbolicLink(folder.resolve("a"), Path.of("b"));
    Files.createSymbolicLink(folder.resolve("b"), Path.of("a"));
    IOException fault = assertThrows(IOException.class, () -> write(link, "new"));
    assertTrue(fault.getMessage().contains("cycle"), fault.getMessage());
  }

  @Test
  void aFolderIsRefusedAndKept() throws IOException {
    Path empty = Files.createDirectory(folder.resolve("empty"));
    OutputFault fault = assertThrows(OutputFault.class, () -> write(empty, "new"));
    assertTrue(fault.getMessage().endsWith("is a folder: name a file"), fault.getMessage());
    assertTrue(Files.isDirectory(empty));
    assertEquals(List.of("empty"), names());
  }

  @Test
  void whatCannotBeCreatedIsNotCalledAnExistingFile() {
    Path system = Path.of("/proc");
    assumeTrue(Files.isDirectory(system), "no /proc here");
    Path file = system.resolve("no-such-file.csv");
    OutputFault fault = assertThrows(OutputFault.class, () -> write(file, "new"));
    assertTrue(fault.getMessage().startsWith(file + ": cannot be written: "), fault.getMessage());
    assertTrue(
        fault.getMessage().endsWith(": nothing is written: name another file"), fault.getMessage());
    assertFalse(fault.getMessage().contains("no such folder"), fault.getMessage());
  }

  @Test
  @Timeout(60)
  void aPipeIsWrittenToAndKept() throws Exception {
    Path pipe = pipe();
    CompletableFuture<String> read = CompletableFuture.supplyAsync(() -> read(pipe));
    write(pipe, "through the pipe");
    assertEquals("through the pipe", read.get(30, TimeUnit.SECONDS));
    assertFalse(Files.isRegularFile(pipe), "replaced by a file");
    assertEquals(List.of("pipe"), names());
  }

  @Test
  @Timeout(120)
  void aReplayWritesToAPipe() throws Exception {
    Path pipe = pipe();
    Path log = Cli.EXAMPLES.resolve("flights/cloud-passage.csv");
    CompletableFuture<String> read = CompletableFuture.supplyAsync(() -> read(pipe));
    Cli run = Cli.run("replay", log, "--craft", Cli.STILT, "--estimates", pipe);
    assertEquals(0, run.status, run.err);
    assertEquals(Files.readAllLines(log).size(), read.get(30, TimeUnit.SECONDS).lines().count());
    assertFalse(Files.isRegularFile(pipe), "replaced by a file");
  }

  private Path pipe() throws Exception {
    Path pipe = folder.resolve("pipe");
    assumeTrue(run("mkfifo", pipe.toString()), "no named pipes here");
    return pipe;
  }

  private static String read(Path pipe) {
    try {
      return Files.readString(pipe);
    } catch (IOException e) {
      throw new IllegalStateException(e);
    }
  }

  @Test
  void aDeviceIsKept() throws Exception {
    Path device = device("null", 3);
    Path link = Files.createSymbolicLink(folder.resolve("link"), device);
    write(device, "gone");
    write(link, "gone");
    assertTrue(Files.isSymbolicLink(link));
    assertFalse(Files.isRegularFile(device), "replaced by a file");
  }

  @Test
  void aFullDeviceIsReportedAndKept() throws Exception {
    Path device = device("full", 7);
    assertThrows(IOException.class, () -> write(device, "text"));
    assertFalse(Files.isRegularFile(device), "replaced by a file");
  }

  /**
   * A device created by this test. If none can be created, the system's is used, but only if this
   * process cannot replace it, because a fault that this test guards against once did.
   */
  private Path device(String name, int minor) throws Exception {
    Path own = folder.resolve(name);
    if (run("mknod", own.toString(), "c", "1", "" + minor) && Files.isWritable(own)) {
      return own;
    }
    Path devices = Path.of("/dev");
    assumeTrue(Files.exists(devices.resolve(name)) && !Files.isWritable(devices), "no device");
    return devices.resolve(name);
  }

  private static boolean run(String... command) throws Exception {
    try {
      return new ProcessBuilder(command).redirectErrorStream(true).start().waitFor() == 0;
    } catch (IOException e) {
      return false; // no such command
    }
  }

  @Test
  @Timeout(120)
  void standardOutputGetsTheTableAndThenTheText() throws Exception {
    Path standard = Path.of("/proc/self/fd/1");
    assumeTrue(Files.exists(standard));
    Path link = Files.createSymbolicLink(folder.resolve("standard"), standard);
    Path out = folder.resolve("out.txt");
    Process run =
        new ProcessBuilder(
                ProcessHandle.current().info().command().orElse("java"),
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName(),
                "replay",
                Cli.EXAMPLES.resolve("flights/cloud-passage.csv").toString(),
                "--craft",
                Cli.STILT.toString(),
                "--alerts",
                link.toString())
            .redirectOutput(out.toFile())
            .redirectErrorStream(true)
            .start();
    assertEquals(0, run.waitFor());
    String text = Files.readString(out);
    assertTrue(text.startsWith("time_s,level,state"), text);
    assertTrue(text.contains("There was spare power throughout"), text);
    assertEquals(List.of("out.txt", "standard"), names());
    assertTrue(Files.isSymbolicLink(link));
  }

  @Test
  @Timeout(60)
  void draftsOfAKilledRunAreRemovedByTheNextForTheSameFile() throws Exception {
    Process dead = new ProcessBuilder("true").start();
    dead.waitFor();
    Process alive = new ProcessBuilder("sleep", "60").start();
    try {
      Path stale = Files.writeString(folder.resolve(".e.csv." + dead.pid() + ".part"), "half");
      Path live = Files.writeString(folder.resolve(".e.csv." + alive.pid() + ".part"), "half");
      long own = ProcessHandle.current().pid();
      Files.writeString(folder.resolve(".e.csv." + own + ".part"), "half");
      Path other = Files.writeString(folder.resolve(".f.csv." + dead.pid() + ".part"), "half");
      Path notOurs = Files.writeString(folder.resolve(".e.csv.old.part"), "somebody's");
      write(folder.resolve("e.csv"), "whole");
      assertFalse(Files.exists(stale), "draft of a process that has ended");
      assertTrue(Files.exists(live), "draft of a running process");
      assertTrue(Files.exists(other) && Files.exists(notOurs), "draft of another file");
      assertEquals("whole", Files.readString(folder.resolve("e.csv"), StandardCharsets.UTF_8));
      assertFalse(Files.exists(folder.resolve(".e.csv." + own + ".part")));
    } finally {
      alive.destroy();
    }
  }
}
