package org.solarmargin.cli.file;

import java.io.BufferedWriter;
import java.io.FilterOutputStream;
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
 * A file that appears whole or not at all: written beside its place under another name, moved there
 * by {@link #commit()}. Closed without a commit, it leaves nothing behind; what a killed run left,
 * the next one for the same file removes.
 *
 * <p>Behind a symbolic link it is the file that the link stands for that appears; the link stays. A
 * device or pipe, {@code /dev/stdout} among them, is never replaced: it is written to as the
 * content comes, whole or not.
 */
public final class AtomicFile implements AutoCloseable {

  private static final String KEPT = "what was there before is kept";
  private static final String NO_MORE = "what was written before stays";

  private static final int BUFFER = 1 << 16;

  private static final String DRAFT_END = ".part";

  private final Path named;
  private final Path target;

  /** Null where the target is written to as it stands. */
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
      throw new IOException(target + ": is a folder: name a file");
    }
    named = target;
    if (StandingOutput.is(target)) {
      this.target = target;
      draft = null;
      stream = new NamedStream(StandingOutput.open(target));
    } else {
      this.target = FileLinks.followed(target);
      draft = draft(target, this.target);
      stream = new NamedStream(newDraft());
      draft.toFile().deleteOnExit();
    }
    writer = new BufferedWriter(new OutputStreamWriter(stream, StandardCharsets.UTF_8), BUFFER);
  }

  private OutputStream newDraft() throws IOException {
    try {
      return Files.newOutputStream(draft, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    } catch (IOException e) {
      throw new OutputFault(named, e, KEPT);
    }
  }

  private static Path draft(Path named, Path file) throws IOException {
    Path folder = file.getParent();
    if (folder == null || !Files.isDirectory(folder)) {
      throw new IOException(named + ": no such folder: make it first");
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
      // what may not be listed or removed stays, and does no harm
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

  /** Names the file where a write fails; the system says only what is wrong. */
  private final class NamedStream extends FilterOutputStream {
    NamedStream(OutputStream out) {
      super(out);
    }

    @Override
    public void write(int one) throws IOException {
      write(new byte[] {(byte) one}, 0, 1);
    }

    @Override
    public void write(byte[] bytes, int from, int length) throws IOException {
      try {
        out.write(bytes, from, length);
      } catch (IOException e) {
        throw new OutputFault(named, e, draft == null ? NO_MORE : KEPT);
      }
    }

    @Override
    public void close() throws IOException {
      try {
        out.close();
      } catch (IOException e) {
        throw new OutputFault(named, e, draft == null ? NO_MORE : KEPT);
      }
    }
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
    void write(AtomicFile file) throws IOException;
  }

  /**
   * Writes a file whole, or not at all.
   *
   * @param target where it will appear
   * @param content what is to stand in it
   * @throws IOException if it cannot be written; an older one then stays
   */
  public static void write(Path target, Content content) throws IOException {
    try (AtomicFile file = new AtomicFile(target)) {
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
    if (draft == null) {
      return;
    }
    try {
      Files.move(
          draft, target, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    } catch (AtomicMoveNotSupportedException e) {
      Files.move(draft, target, StandardCopyOption.REPLACE_EXISTING);
    } catch (IOException e) {
      throw new OutputFault(named, e, KEPT);
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
