package org.solarmargin.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * Runs the command in a separate process with 256 MB.
 *
 * @param status exit status
 * @param out standard output
 * @param err standard error
 */
public record ForkedCli(int status, String out, String err) {

  private static final int LONGEST_SECONDS = 60;

  /**
   * Runs the command.
   *
   * @param folder folder for its output
   * @param args verb, options, files
   * @return its status and output
   */
  public static ForkedCli run(Path folder, Object... args) throws Exception {
    List<String> words = new ArrayList<>();
    words.add(ProcessHandle.current().info().command().orElse("java"));
    words.addAll(
        List.of("-Xmx256m", "-cp", System.getProperty("java.class.path"), Main.class.getName()));
    for (Object arg : args) {
      words.add(arg.toString());
    }
    Path out = folder.resolve("out.txt");
    Path err = folder.resolve("err.txt");
    Process process =
        new ProcessBuilder(words).redirectOutput(out.toFile()).redirectError(err.toFile()).start();
    if (!process.waitFor(LONGEST_SECONDS, TimeUnit.SECONDS)) {
      process.destroyForcibly();
      throw new IOException("still running after " + LONGEST_SECONDS + " s: " + List.of(args));
    }
    return new ForkedCli(process.exitValue(), Files.readString(out), Files.readString(err));
  }
}
