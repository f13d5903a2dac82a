package org.solarmargin.cli.file;

import java.io.IOException;
import java.io.InputStream;

/** A stream that reads its bytes from one chunk after another. */
public abstract class ChunkStream extends InputStream {

  /** The current chunk; its unread bytes lie between {@link #at} and {@link #end}. */
  protected byte[] chunk;

  /** Index of the next byte. */
  protected int at;

  /** Index after the last byte. */
  protected int end;

  /**
   * Creates a stream whose first chunk is not yet loaded.
   *
   * @param room buffer for the first chunk; its content does not matter
   */
  protected ChunkStream(byte[] room) {
    chunk = room;
  }

  /**
   * Loads the next chunk, which may be empty. Called when the previous one is used up.
   *
   * @return false at the end of the stream
   * @throws IOException if it cannot be read
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
