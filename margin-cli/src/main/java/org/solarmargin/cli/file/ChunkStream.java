package org.solarmargin.cli.file;

import java.io.IOException;
import java.io.InputStream;

/** A stream that takes its bytes from one chunk after another. */
public abstract class ChunkStream extends InputStream {

  /** The present chunk: what is left of it stands from {@link #at} up to {@link #end}. */
  protected byte[] chunk;

  /** The next byte. */
  protected int at;

  /** Behind the last byte. */
  protected int end;

  /**
   * A stream with nothing in it yet.
   *
   * @param room of the first chunk; its content does not matter
   */
  protected ChunkStream(byte[] room) {
    chunk = room;
  }

  /**
   * Brings the next chunk, which may be empty. Called where nothing is left of the one before.
   *
   * @return false at the end of the stream
   * @throws IOException if it cannot be brought
   */
  protected abstract boolean next() throws IOException;

  private boolean fill() throws IOException {
    while (at == end) {
      if (!next()) {
        return false;
      }
    }
    return true;
  }

  @Override
  public final int read() throws IOException {
    return fill() ? chunk[at++] & 0xff : -1;
  }

  @Override
  public final int read(byte[] to, int from, int length) throws IOException {
    if (length == 0) {
      return 0;
    }
    if (!fill()) {
      return -1;
    }
    int count = Math.min(length, end - at);
    System.arraycopy(chunk, at, to, from, count);
    at += count;
    return count;
  }
}
