package org.solarmargin.cli.file;

import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.FilterOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;

/**
 * Outputs that are written to directly because they cannot be replaced: devices, pipes, and files
 * that the process already has open, such as {@code /dev/stdout}.
 */
final class DirectOutput {

  private static final Path STANDARD = Path.of("/dev/stdout");

  private DirectOutput() {}

  /** Whether a path is such an output. */
  static boolean is(Path target) throws IOException {
    if (!Files.exists(target)) {
      return false;
    }
    if (!Files.isRegularFile(target)) {
      return true;
    }
    for (Path step : FileLinks.steps(target)) {
      Path folder = step.getParent();
      if (Files.isSymbolicLink(step) && folder != null && ofSystem(folder.toRealPath())) {
        return true;
      }
    }
    return false;
  }

  private static boolean ofSystem(Path folder) {
    return folder.startsWith("/proc") || folder.startsWith("/dev");
  }

  /** Opens it for appending. */
  static OutputStream open(Path target) throws IOException {
    if (Files.exists(STANDARD) && Files.isSameFile(target, STANDARD)) {
      return new Shared(new FileOutputStream(FileDescriptor.out));
    }
    return Files.newOutputStream(target, StandardOpenOption.APPEND);
  }

  /**
   * Standard output: continues after what is already written and stays open after {@code close}.
   */
  private static final class Shared extends FilterOutputStream {
    Shared(OutputStream out) {
      super(out);
    }

    @Override
    public void write(byte[] bytes, int from, int length) throws IOException {
      out.write(bytes, from, length);
    }

    @Override
    public void close() throws IOException {
      flush();
    }
  }
}
