package org.solarmargin.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * Independent codecs and an ephemeris for Node.js, as {@code npm install --prefix
 * margin-cli/target/node MODULE} puts them there.
 */
public final class Node {

  private static final Path MODULES = Path.of("target", "node", "node_modules");

  private Node() {}

  /** Skips the test, with the reason, where a module is absent. */
  public static void assumeThere(String module) {
    assumeTrue(
        Files.isDirectory(MODULES.resolve(module)), "npm's " + module + " is not in " + MODULES);
  }

  /**
   * Runs a script to its end.
   *
   * @return what it printed, by lines
   */
  public static List<String> run(String script, Object... args)
      throws IOException, InterruptedException {
    Path file = Files.createTempFile("script", ".js");
    File said = File.createTempFile("said", ".txt");
    try {
      Files.writeString(file, script);
      List<String> command = new ArrayList<>(List.of("node", file.toString()));
      for (Object arg : args) {
        command.add(arg.toString());
      }
      ProcessBuilder node =
          new ProcessBuilder(command)
              .redirectOutput(said)
              .redirectError(ProcessBuilder.Redirect.INHERIT);
      node.environment().put("NODE_PATH", MODULES.toAbsolutePath().toString());
      Process process = node.start();
      assertTrue(process.waitFor(60, TimeUnit.SECONDS), "node does not end");
      assertEquals(0, process.exitValue(), "node's exit status");
      return Files.readAllLines(said.toPath());
    } finally {
      Files.delete(file);
      Files.delete(said.toPath());
    }
  }
}
