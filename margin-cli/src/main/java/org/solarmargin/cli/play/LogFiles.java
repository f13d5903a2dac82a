package org.solarmargin.cli.play;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.solarmargin.cli.InputFault;

/** Logs named on the command line, folders opened. */
public final class LogFiles {

  private LogFiles() {}

  /**
   * Lists logs.
   *
   * @param inputs files, and folders that stand for all {@code .csv} files in them, by name
   * @return at least one
   * @throws InputFault if a folder has none, or cannot be read
   */
  public static List<Path> of(List<Path> inputs) {
    List<Path> files = new ArrayList<>();
    for (Path input : inputs) {
      if (!Files.isDirectory(input)) {
        files.add(input);
        continue;
      }
      try (Stream<Path> inside = Files.list(input)) {
        List<Path> logs =
            inside
                .filter(f -> f.toString().toLowerCase(Locale.ROOT).endsWith(".csv"))
                .sorted()
                .toList();
        if (logs.isEmpty()) {
          throw new InputFault(input + ": no .csv file in this folder: give one with flight logs");
        }
        files.addAll(logs);
      } catch (IOException e) {
        throw new InputFault(input + ": cannot be read: " + e.getMessage());
      }
    }
    return files;
  }
}
