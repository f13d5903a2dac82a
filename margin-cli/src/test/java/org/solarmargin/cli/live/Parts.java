package org.solarmargin.cli.live;

import java.util.function.LongFunction;
import org.solarmargin.cli.file.ChunkStream;

/** A stream of consecutive parts, each generated when it is read. */
final class Parts extends ChunkStream {

  private final long count;
  private final LongFunction<byte[]> maker;
  private long made;

  Parts(long count, LongFunction<byte[]> maker) {
    super(new byte[0]);
    this.count = count;
    this.maker = maker;
  }

  @Override
  protected boolean next() {
    if (made == count) {
      return false;
    }
    chunk = maker.apply(made++);
    at = 0;
    end = chunk.length;
    return true;
  }
}
