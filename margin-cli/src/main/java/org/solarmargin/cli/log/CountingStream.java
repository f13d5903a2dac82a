package org.solarmargin.cli.log;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;

/** Counts the bytes that pass, for a progress bar. */
final class CountingStream extends FilterInputStream {

  private long count;

  CountingStream(InputStream in) {
    super(in);
  }

  long count() {
    return count;
  }

  @Override
  public int read() throws IOException {
    int one = super.read();
    count += one < 0 ? 0 : 1;
    return one;
  }

  @Override
  public int read(byte[] buffer, int offset, int length) throws IOException {
    int got = super.read(buffer, offset, length);
    count += Math.max(got, 0);
    return got;
  }
}
