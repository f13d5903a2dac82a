package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.StringJoiner;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.Main;

/** A serial device that the user may not open is told of in one line. */
class SerialPermissionTest {

  private static final Path SETPRIV = Path.of("/usr/bin/setpriv");
  private static final int LONGEST_SECONDS = 60;

  @TempDir private Path folder;

  private final List<String> command = new ArrayList<>();

  @Test
  void aDeviceWithoutPermissionIsReportedInOneLine() throws Exception {
    try (Pty pty = new Pty(folder)) {
      Files.setPosixFilePermissions(pty.far, PosixFilePermissions.fromString("---------"));
      if (Files.isReadable(pty.far)) {
        becomeNobody();
        Files.setPosixFilePermissions(pty.far, PosixFilePermissions.fromString("rw-------"));
      }
      command.add(ProcessHandle.current().info().command().orElse("java"));
      command.addAll(List.of("-cp", readableClassPath(), Main.class.getName()));
      Path craft = Files.copy(Cli.STILT, folder.resolve("craft.properties"));
      command.addAll(List.of("watch", "--craft", craft.toString(), "--from"));
      String source = "serial:" + pty.far + ":57600";
      assertEquals(3, run(source));
      assertEquals(
          "serial "
              + pty.far
              + ": no permission: add your user to the group that owns it (often dialout), and"
              + " log in again\n",
          Files.readString(folder.resolve("err")));
      assertEquals("", Files.readString(folder.resolve("out")));
      assertFalse(Files.exists(folder.resolve("flight.csv")), "a log of nothing");
    }
  }

  /** The tests' user may open everything: another one, without rights, has to run the command. */
  private void becomeNobody() throws Exception {
    assumeTrue(Files.isExecutable(SETPRIV), "this user may open everything, and no " + SETPRIV);
    command.addAll(List.of(SETPRIV.toString(), "--reuid=65534", "--regid=65534", "--clear-groups"));
    Files.setPosixFilePermissions(folder, PosixFilePermissions.fromString("rwxrwxrwx"));
    List<String> before = List.copyOf(command);
    command.add(ProcessHandle.current().info().command().orElse("java"));
    assumeTrue(run("-version") == 0, "a user without rights cannot run this Java");
    command.clear();
    command.addAll(before);
  }

  private int run(String last) throws IOException, InterruptedException {
    List<String> words = new ArrayList<>(command);
    words.add(last);
    Process process =
        new ProcessBuilder(words)
            .directory(folder.toFile())
            .redirectOutput(folder.resolve("out").toFile())
            .redirectError(folder.resolve("err").toFile())
            .start();
    try {
      assertTrue(process.waitFor(LONGEST_SECONDS, TimeUnit.SECONDS), "still running: " + words);
    } finally {
      process.destroyForcibly();
    }
    return process.exitValue();
  }

  /** Copies what is on the class path: a home folder is closed to other users. */
  private String readableClassPath() throws IOException {
    StringJoiner path = new StringJoiner(File.pathSeparator);
    for (String entry : System.getProperty("java.class.path").split(File.pathSeparator, -1)) {
      Path from = Path.of(entry);
      Path to = folder.resolve("part" + path.length());
      if (Files.exists(from)) {
        copy(from, to);
        path.add(to.toString());
      }
    }
    return path.toString();
  }

  private static void copy(Path from, Path to) throws IOException {
    List<Path> files;
    try (Stream<Path> all = Files.walk(from)) {
      files = all.toList();
    }
    for (Path file : files) {
      Files.copy(file, to.resolve(from.relativize(file).toString()));
    }
  }
}
