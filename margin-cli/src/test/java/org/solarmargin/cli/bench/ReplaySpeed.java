package org.solarmargin.cli.bench;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;
import org.solarmargin.cli.Main;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.log.LogReader;

/** Measures a complete replay of a log and plain reading of the same file, in one run. */
public final class ReplaySpeed {

  private ReplaySpeed() {}

  /**
   * Prints lines per second of both, three times.
   *
   * @param args log and profile
   * @throws Exception if the log cannot be read
   */
  public static void main(String[] args) throws Exception {
    for (int round = 0; round < 3; round++) {
      long start = System.nanoTime();
      long lines = 0;
      try (LogReader reader = new LogReader(Path.of(args[0]), new ColumnMap(List.of()))) {
        while (reader.next()) {
          lines++;
        }
      }
      double bare = (System.nanoTime() - start) * 1e-9;
      start = System.nanoTime();
      PrintWriter nowhere = new PrintWriter(new StringWriter());
      Main.run(new String[] {"replay", args[0], "--craft", args[1]}, nowhere, nowhere);
      double whole = (System.nanoTime() - start) * 1e-9;
      System.out.printf(
          "%d lines: reading alone %.0f/s, whole replay %.0f/s, ratio %.2f%n",
          lines, lines / bare, lines / whole, whole / bare);
    }
  }
}
