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
 * Runs independent codecs and an ephemeris in Node.js, installed by {@code npm install --prefix
 * margin-cli/target/node MODULE}.
 */
public final class Node {

  private static final Path MODULES = Path.of("target", "node", "node_modules");

  private Node() {}

  /** Skips the test with the reason if a module is absent. */
  public static void assumeThere(String module) {
    assumeTrue(
        Files.isDirectory(MODULES.resolve(module)), "npm's " + module + " is not in " + MODULES);
  }

  /**
   * Runs a script to its end.
   *
   * @return the lines that it printed
   */
  public static List<String> run(String script, Object... args)
      throws IOException, InterruptedException {
    Path file = Files.createTempFile("script", ".js");
    File output = File.createTempFile("node", ".txt");
    try {
      Files.writeString(file, script);
      List<String> command = new ArrayList<>(List.of("node", file.toString()));
      for (Object arg : args) {
        command.add(arg.toString());
      }
      ProcessBuilder node =
          new ProcessBuilder(command)
              .redirectOutput(output)
              .redirectError(ProcessBuilder.Redirect.INHERIT);
      node.environment().put("NODE_PATH", MODULES.toAbsolutePath().toString());
      Process process = node.start();
      assertTrue(process.waitFor(60, TimeUnit.SECONDS), "node does not terminate");
      assertEquals(0, process.exitValue(), "node's exit status");
      return Files.readAllLines(output.toPath());
    } finally {
      Files.delete(file);
      Files.delete(output.toPath());
    }
  }
}
