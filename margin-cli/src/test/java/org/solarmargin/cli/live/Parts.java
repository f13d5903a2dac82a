package org.solarmargin.cli.live;

import java.io.InputStream;
import java.util.function.LongFunction;

/** Parts one behind the other, each made as it is read. */
final class Parts extends InputStream {

  private final long count;
  private final LongFunction<byte[]> maker;
  private long made;
  private byte[] part = {};
  private int at;

  Parts(long count, LongFunction<byte[]> maker) {
    this.count = count;
    this.maker = maker;
  }

  private boolean fill() {
    while (at == part.length) {
      if (made == count) {
        return false;
      }
      part = maker.apply(made++);
      at = 0;
    }
    return true;
  }

  @Override
  public int read() {
    return fill() ? part[at++] & 0xff : -1;
  }

  @Override
  public int read(byte[] to, int from, int length) {
    if (length == 0) {
      return 0;
    }
    if (!fill()) {
      return -1;
    }
    int taken = Math.min(length, part.length - at);
    System.arraycopy(part, at, to, from, taken);
    at += taken;
    return taken;
  }
}
