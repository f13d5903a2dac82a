package org.solarmargin.cli.log;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** The text of lines that are made while they are read. */
final class LineStream extends InputStream {

  /** Where the lines come from. */
  interface Lines extends AutoCloseable {
    /** The next line, without its end; null behind the last. */
    String next() throws IOException;

    @Override
    void close() throws IOException;
  }

  private final Lines lines;
  private final List<String> notes;
  private byte[] text = {};
  private int at;

  LineStream(Lines lines, List<String> notes) {
    this.lines = lines;
    this.notes = List.copyOf(notes);
  }

  List<String> notes() {
    return notes;
  }

  private boolean fill() throws IOException {
    while (at == text.length) {
      String line = lines.next();
      if (line == null) {
        return false;
      }
      text = (line + "\n").getBytes(StandardCharsets.UTF_8);
      at = 0;
    }
    return true;
  }

  @Override
  public int read() throws IOException {
    return fill() ? text[at++] & 0xff : -1;
  }

  @Override
  public int read(byte[] to, int from, int length) throws IOException {
    if (length == 0) {
      return 0;
    }
    if (!fill()) {
      return -1;
    }
    int count = Math.min(length, text.length - at);
    System.arraycopy(text, at, to, from, count);
    at += count;
    return count;
  }

  @Override
  public void close() throws IOException {
    lines.close();
  }
}
