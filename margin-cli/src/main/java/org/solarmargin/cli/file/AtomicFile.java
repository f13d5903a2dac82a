package org.solarmargin.cli.file;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;

/**
 * A file that appears complete or not at all: it is written under a temporary name in the same
 * folder and moved into place by {@link #commit()}. Closed without a commit, it leaves nothing
 * behind; a draft left by a killed run is removed by the next run for the same file.
 *
 * <p>A symbolic link is followed: its target is replaced and the link is kept. A file that is
 * replaced keeps its permissions. A device or pipe such as {@code /dev/stdout} is never replaced:
 * content is written to it directly, so an aborted run leaves a part.
 */
public final class AtomicFile implements AutoCloseable {

  private static final String KEPT = "the existing file is unchanged";
  private static final String NOTHING = "nothing is written: name another file";

  private static final int BUFFER = 1 << 16;

  private static final String DRAFT_END = ".part";

  private final Path named;
  private final Path target;

  /** Null where the target is written to directly. */
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
  public AtomicFile(Path target) throws IOException {
    if (Files.isDirectory(target)) {
      throw new OutputFault(target, "is a folder: name a file");
    }
    named = target;
    if (DirectOutput.is(target)) {
      this.target = target;
      draft = null;
      stream = new NamedStream(direct(), named, NamedStream.PART_REMAINS);
    } else {
      this.target = FileLinks.followed(target);
      draft = draft(target, this.target);
      stream = new NamedStream(newDraft(), named, consequence());
      draft.toFile().deleteOnExit();
    }
    writer = new BufferedWriter(new OutputStreamWriter(stream, StandardCharsets.UTF_8), BUFFER);
  }

  private OutputStream direct() throws IOException {
    try {
      return DirectOutput.open(target);
    } catch (IOException e) {
      throw new OutputFault(named, e, NOTHING);
    }
  }

  private OutputStream newDraft() throws IOException {
    try {
      return Files.newOutputStream(draft, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    } catch (IOException e) {
      throw new OutputFault(named, e, consequence());
    }
  }

  /** What a write that fails leaves behind. */
  private String consequence() {
    return Files.exists(target) ? KEPT : NOTHING;
  }

  private static Path draft(Path named, Path file) throws IOException {
    Path folder = file.getParent();
    if (folder == null || !Files.isDirectory(folder)) {
      throw new OutputFault(named, "no such folder: make it first");
    }
    String start = "." + file.getFileName() + ".";
    removeLeft(folder, start);
    Path draft = folder.resolve(start + ProcessHandle.current().pid() + DRAFT_END);
    Files.deleteIfExists(draft);
    return draft;
  }

  private static void removeLeft(Path folder, String start) {
    try (DirectoryStream<Path> drafts =
        Files.newDirectoryStream(folder, one -> left(one.getFileName().toString(), start))) {
      for (Path draft : drafts) {
        Files.deleteIfExists(draft);
      }
    } catch (IOException | DirectoryIteratorException e) {
      // a draft that cannot be listed or removed is harmless and is left in place
    }
  }

  /** Whether a file is the draft of a process that no longer runs. */
  private static boolean left(String name, String start) {
    int end = name.length() - DRAFT_END.length();
    if (!name.startsWith(start) || !name.endsWith(DRAFT_END) || end <= start.length()) {
      return false;
    }
    String process = name.substring(start.length(), end);
    return process.matches("[0-9]{1,18}") && ProcessHandle.of(Long.parseLong(process)).isEmpty();
  }

  /** The content of a file. */
  @FunctionalInterface
  public interface Content {
    /**
     * Writes the content.
     *
     * @param file open
     * @throws IOException if that fails
     */
    void write(AtomicFile file) throws IOException;
  }

  /**
   * Writes a file completely or not at all.
   *
   * @param target where it will appear
   * @param content what to write to it
   * @throws IOException if it cannot be written; an existing file is then unchanged
   */
  public static void write(Path target, Content content) throws IOException {
    try (AtomicFile file = new AtomicFile(target)) {
      content.write(file);
      file.commit();
    }
  }

  /**
   * The stream for binary content.
   *
   * @return the same stream each time; do not use the writer too
   */
  public OutputStream stream() {
    return stream;
  }

  /**
   * The writer for text, UTF-8.
   *
   * @return the same writer each time
   */
  public Writer writer() {
    return writer;
  }

  /**
   * Moves the file into place, replacing an existing one.
   *
   * @throws IOException if that fails; an existing file is then unchanged
   */
  public void commit() throws IOException {
    writer.close();
    open = false;
    if (draft == null) {
      return;
    }
    keepPermissions();
    try {
      Files.move(
          draft, target, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(draft, target, StandardCopyOption.REPLACE_EXISTING);
    } catch (IOException e) {
      throw new OutputFault(named, e, consequence());
    }
  }

  /** Gives the draft the permissions of the file that it replaces, where the system has any. */
  private void keepPermissions() {
    try {
      Files.setPosixFilePermissions(draft, Files.getPosixFilePermissions(target));
    } catch (IOException | UnsupportedOperationException e) {
      // a new file, or a system without such permissions: those of a new file are right
    }
  }

  @Override
  public void close() throws IOException {
    try {
      if (open) {
        open = false;
        writer.close();
      }
    } finally {
      if (draft != null) {
        Files.deleteIfExists(draft);
      }
    }
  }
}
