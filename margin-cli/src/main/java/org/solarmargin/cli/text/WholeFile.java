package org.solarmargin.cli.text;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;

/**
 * A file that appears whole or not at all: written beside its place under another name, moved there
 * by {@link #commit()}. Closed without a commit, it leaves nothing behind.
 */
public final class WholeFile implements AutoCloseable {

  private static final int BUFFER = 1 << 16;

  private final Path target;
  private final Path draft;
  private final OutputStream stream;
  private final Writer writer;
  private boolean open = true;

  /**
   * Starts a file.
   *
   * @param target where it will appear; its folder must exist
   * @throws IOException if the folder cannot be written
   */
  public WholeFile(Path target) throws IOException {
    this.target = target.toAbsolutePath();
    Path folder = this.target.getParent();
    if (folder == null || !Files.isDirectory(folder)) {
      throw new IOException(target + ": no such folder: make it first");
    }
    draft =
        folder.resolve(
            "." + this.target.getFileName() + "." + ProcessHandle.current().pid() + ".part");
    draft.toFile().deleteOnExit();
    stream = Files.newOutputStream(draft);
    writer = new BufferedWriter(new OutputStreamWriter(stream, StandardCharsets.UTF_8), BUFFER);
  }

  /** What is to stand in a file. */
  @FunctionalInterface
  public interface Content {
    /**
     * Writes it.
     *
     * @param file open
     * @throws IOException if that fails
     */
    void write(WholeFile file) throws IOException;
  }

  /**
   * Writes a file whole, or not at all.
   *
   * @param target where it will appear
   * @param content what is to stand in it
   * @throws IOException if it cannot be written; an older one then stays
   */
  public static void write(Path target, Content content) throws IOException {
    try (WholeFile file = new WholeFile(target)) {
      content.write(file);
      file.commit();
    }
  }

  /**
   * Where to write what is no text.
   *
   * @return the same stream each time; do not use the writer too
   */
  public OutputStream stream() {
    return stream;
  }

  /**
   * Where to write, UTF-8.
   *
   * @return the same writer each time
   */
  public Writer writer() {
    return writer;
  }

  /**
   * Puts the file in its place, over an older one if there is one.
   *
   * @throws IOException if that fails; the older one then stays
   */
  public void commit() throws IOException {
    writer.close();
    open = false;
    try {
      Files.move(
          draft, target, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(draft, target, StandardCopyOption.REPLACE_EXISTING);
    }
  }

  @Override
  public void close() throws IOException {
    if (open) {
      open = false;
      writer.close();
    }
    Files.deleteIfExists(draft);
  }
}
