package org.solarmargin.cli.file;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.function.LongConsumer;

/** Counts the bytes that are read through it. */
public final class CountingStream extends FilterInputStream {

  private final LongConsumer passed;

  /**
   * Counts a stream.
   *
   * @param in the stream; closed with this
   * @param passed receives the number of bytes of each read
   */
  public CountingStream(InputStream in, LongConsumer passed) {
    super(in);
    this.passed = passed;
  }

  @Override
  public int read() throws IOException {
    int one = super.read();
    passed.accept(one < 0 ? 0 : 1);
    return one;
  }

  @Override
  public int read(byte[] to, int from, int length) throws IOException {
    int count = super.read(to, from, length);
    passed.accept(Math.max(count, 0));
    return count;
  }
}
