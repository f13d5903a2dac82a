package org.solarmargin.cli.log;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.solarmargin.cli.file.ChunkStream;

/** A stream of text lines that are generated while it is read. */
final class LineStream extends ChunkStream {

  /** The source of the lines. */
  interface Lines extends AutoCloseable {
    /** The next line, without its end; null after the last. */
    String next() throws IOException;

    @Override
    void close() throws IOException;
  }

  private final Lines lines;
  private final List<String> notes;

  LineStream(Lines lines, List<String> notes) {
    super(new byte[0]);
    this.lines = lines;
    this.notes = List.copyOf(notes);
  }

  List<String> notes() {
    return notes;
  }

  @Override
  protected boolean next() throws IOException {
    String line = lines.next();
    if (line == null) {
      return false;
    }
    chunk = (line + "\n").getBytes(StandardCharsets.UTF_8);
    at = 0;
    end = chunk.length;
    return true;
  }

  @Override
  public void close() throws IOException {
    lines.close();
  }
}
