package org.solarmargin.cli.file;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** What a path refers to once its symbolic links are followed, whether the file exists or not. */
public final class FileLinks {

  /** Longest chain of links that is followed; Linux allows 40 (path_resolution(7)). */
  private static final int MOST = 40;

  private FileLinks() {}

  /**
   * The file that writing to a path would write to.
   *
   * @param path existing or not, a link or not
   * @return absolute and itself not a link; its folder may be reached through links
   * @throws IOException if a link cannot be read, or links form a cycle
   */
  public static Path followed(Path path) throws IOException {
    List<Path> steps = steps(path);
    return steps.get(steps.size() - 1);
  }

  /** The path and the target of each link on the way; the last is not a link. */
  static List<Path> steps(Path path) throws IOException {
    List<Path> steps = new ArrayList<>();
    Path at = path.toAbsolutePath();
    steps.add(at);
    while (Files.isSymbolicLink(at)) {
      if (steps.size() > MOST) {
        throw new OutputFault(path, "its symbolic links form a cycle: name another file");
      }
      at = at.resolveSibling(Files.readSymbolicLink(at));
      steps.add(at);
    }
    return steps;
  }

  /**
   * Whether two paths refer to one file, also through symbolic or hard links.
   *
   * @param one existing or not
   * @param other existing or not
   * @return true if what is written to the one is read from the other; false if that cannot be
   *     determined
   */
  public static boolean same(Path one, Path other) {
    try {
      if (Files.exists(one) && Files.exists(other)) {
        return Files.isSameFile(one, other);
      }
      return place(one).equals(place(other));
    } catch (IOException e) {
      return false; // then neither can be opened
    }
  }

  private static Path place(Path path) throws IOException {
    Path at = followed(path).normalize();
    Path folder = at.getParent();
    return folder == null || !Files.isDirectory(folder)
        ? at
        : folder.toRealPath().resolve(at.getFileName());
  }
}
