package org.solarmargin.cli.file;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import org.solarmargin.cli.format.Printable;

/** An output that cannot be written: one line with file, cause and consequence. Exit status 1. */
public final class OutputFault extends IOException {

  private static final long serialVersionUID = 1L;

  /**
   * A fault of an output.
   *
   * @param target the file as the user named it
   * @param cause the system's error
   * @param consequence what became of the output, or of the run
   */
  public OutputFault(Path target, IOException cause, String consequence) {
    super(
        Printable.of(target + ": cannot be written: " + words(target, cause) + ": " + consequence),
        cause);
  }

  /**
   * A fault that is not an error of the system.
   *
   * @param target the file as the user named it
   * @param rule what is wrong with it, and what to do
   */
  public OutputFault(Path target, String rule) {
    super(Printable.of(target + ": " + rule));
  }

  /** The cause alone: the system's own message may name a draft that the user does not know. */
  private static String words(Path target, IOException cause) {
    if (cause instanceof AccessDeniedException) {
      return "Permission denied";
    }
    if (cause instanceof NoSuchFileException) {
      Path folder = target.toAbsolutePath().getParent();
      return folder != null && Files.isDirectory(folder)
          ? "no file can be created in " + folder
          : "no such folder";
    }
    if (cause instanceof FileSystemException system && system.getReason() != null) {
      return system.getReason();
    }
    return cause.getMessage() == null ? cause.toString() : cause.getMessage();
  }
}
