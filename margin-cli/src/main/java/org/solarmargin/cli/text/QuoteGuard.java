package org.solarmargin.cli.text;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;

/**
 * Keeps a quote that is not closed within its line from swallowing the lines behind it: where the
 * number of quotes in a line is odd, each of them is read as an apostrophe. Fields of the tables
 * read here never span lines.
 */
public final class QuoteGuard extends FilterInputStream {

  private static final int CHUNK = 8192;

  /** Longer lines pass as they are. */
  private static final int LONGEST = 1 << 16;

  private final byte[] room = new byte[LONGEST];
  private int at;
  private int filled;

  /** End of the lines that are ready, from {@link #at} on. */
  private int ready;

  private boolean ended;
  private long line;
  private long opened;
  private long firstOpened;

  /**
   * Guards a stream.
   *
   * @param in text in any encoding that keeps ASCII
   */
  public QuoteGuard(InputStream in) {
    super(in);
  }

  /**
   * Lines so far whose quotes were not closed, comments not counted.
   *
   * @return 0 or more
   */
  public long opened() {
    return opened;
  }

  /**
   * The first of them.
   *
   * @return line in the file, 1 is the first; 0 if there is none
   */
  public long firstOpened() {
    return firstOpened;
  }

  @Override
  public int read() throws IOException {
    return fill() ? room[at++] & 0xff : -1;
  }

  @Override
  public int read(byte[] to, int from, int length) throws IOException {
    if (length == 0) {
      return 0;
    }
    if (!fill()) {
      return -1;
    }
    int count = Math.min(length, ready - at);
    System.arraycopy(room, at, to, from, count);
    at += count;
    return count;
  }

  @Override
  public int available() {
    return ready - at;
  }

  @Override
  public long skip(long count) {
    int skipped = (int) Math.min(count, ready - at);
    at += skipped;
    return skipped;
  }

  @Override
  public boolean markSupported() {
    return false;
  }

  /** Makes whole lines ready; false at the end of the stream. */
  private boolean fill() throws IOException {
    while (at == ready) {
      if (ended && at == filled) {
        return false;
      }
      System.arraycopy(room, at, room, 0, filled - at);
      filled -= at;
      at = 0;
      ready = 0;
      takeMore();
      makeReady();
    }
    return true;
  }

  private void takeMore() throws IOException {
    int most = Math.min(CHUNK, LONGEST - filled);
    int got = ended || most == 0 ? 0 : in.read(room, filled, most);
    ended |= got < 0;
    filled += Math.max(got, 0);
  }

  private void makeReady() {
    int start = 0;
    int quotes = 0;
    for (int i = 0; i < filled; i++) {
      quotes += room[i] == '"' ? 1 : 0;
      boolean whole = room[i] == '\n' || (ended && i + 1 == filled);
      boolean full = filled == LONGEST && i + 1 == filled && start == 0;
      if (whole) {
        line++;
        if (quotes % 2 != 0) {
          apostrophes(start, i);
        }
      }
      if (whole || full) {
        start = i + 1;
        quotes = 0;
        ready = start;
      }
    }
  }

  private void apostrophes(int from, int to) {
    for (int i = from; i <= to; i++) {
      if (room[i] == '"') {
        room[i] = '\'';
      }
    }
    if (room[from] != '#') {
      opened++;
      firstOpened = firstOpened == 0 ? line : firstOpened;
    }
  }
}
