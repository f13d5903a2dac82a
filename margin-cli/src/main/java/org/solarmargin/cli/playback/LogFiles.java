package org.solarmargin.cli.playback;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.solarmargin.cli.file.InputFault;

/** Resolves logs, scenarios and folders named on the command line to files. */
public final class LogFiles {

  private LogFiles() {}

  /**
   * Lists logs.
   *
   * @param inputs files, and folders that stand for all {@code .csv} files in them, sorted by name
   * @return at least one
   * @throws InputFault if a folder has none, or cannot be read
   */
  public static List<Path> of(List<Path> inputs) {
    return of(inputs, ".csv", "flight logs");
  }

  /**
   * Lists scenarios.
   *
   * @param inputs files, and folders that stand for all {@code .properties} files in them, sorted
   *     by name
   * @return at least one
   * @throws InputFault if a folder has none, or cannot be read
   */
  public static List<Path> scenarios(List<Path> inputs) {
    return of(inputs, ".properties", "scenarios");
  }

  private static List<Path> of(List<Path> inputs, String ending, String wanted) {
    List<Path> files = new ArrayList<>();
    for (Path input : inputs) {
      if (Files.isDirectory(input)) {
        files.addAll(inside(input, ending, wanted));
      } else {
        files.add(input);
      }
    }
    return files;
  }

  /**
   * The files of a folder with one ending, sorted by name.
   *
   * @param folder the folder
   * @param ending the ending of their names, with its point, lower case
   * @param wanted what the files should be, for the message
   * @return at least one
   * @throws InputFault if it has none, or cannot be read
   */
  public static List<Path> inside(Path folder, String ending, String wanted) {
    try (Stream<Path> all = Files.list(folder)) {
      List<Path> files =
          all.filter(f -> f.toString().toLowerCase(Locale.ROOT).endsWith(ending)).sorted().toList();
      if (files.isEmpty()) {
        throw new InputFault(
            folder + ": no " + ending + " file in this folder: give a folder with " + wanted);
      }
      return files;
    } catch (IOException e) {
      throw new InputFault(folder + ": cannot be read: " + e.getMessage());
    }
  }
}
