package org.solarmargin.cli.csv;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.Arrays;

/**
 * Keeps a fault of one line of CSV text from reaching the lines behind it. Fields of the tables
 * read here never span lines, so each line is judged by itself: where its quotes do not pair up,
 * each of them is read as an apostrophe; a line longer than {@link #LONGEST} is read as the one
 * field {@link #OVERLONG}. Lines end with LF, CR or CRLF.
 */
public final class QuoteGuard extends FilterInputStream {

  /** Longest line that is read, bytes. */
  public static final int LONGEST = 1 << 20;

  /** A text with a line as long as this, bytes, is none. */
  public static final int ENDLESS = 1 << 26;

  /** What is read in place of a longer line. */
  public static final String OVERLONG = "?";

  private static final int CHUNK = 8192;

  private static final byte[] BYTE_ORDER_MARK = {(byte) 0xef, (byte) 0xbb, (byte) 0xbf};

  private final LineFaults faults = new LineFaults();
  private byte[] room = new byte[2 * CHUNK];
  private int at;
  private int filled;

  /** End of the lines that are ready, from {@link #at} on. */
  private int ready;

  /** Bytes looked at, from {@link #ready} on. */
  private int looked;

  private boolean ended;
  private boolean afterReturn;
  private boolean dropping;
  private long dropped;
  private long line = 1;

  /**
   * Guards a stream.
   *
   * @param in text in any encoding that keeps ASCII
   */
  public QuoteGuard(InputStream in) {
    super(in);
  }

  /**
   * Faults of the lines so far, comments left out. Lines are judged before they are read.
   *
   * @return the same object each time
   */
  public LineFaults faults() {
    return faults;
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
    int skipped = (int) Math.max(0, Math.min(count, ready - at));
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
      looked -= at;
      ready = 0;
      at = 0;
      takeMore();
      makeReady();
    }
    return true;
  }

  private void takeMore() throws IOException {
    if (room.length - filled < CHUNK) {
      room = Arrays.copyOf(room, 2 * room.length);
    }
    int got = ended ? -1 : in.read(room, filled, CHUNK);
    ended |= got < 0;
    filled += Math.max(got, 0);
  }

  private void makeReady() throws IOException {
    for (int i = looked; i < filled; i++) {
      byte one = room[i];
      boolean secondOfPair = one == '\n' && afterReturn;
      afterReturn = one == '\r';
      if (secondOfPair) {
        ready = i + 1;
      } else if (one == '\n' || one == '\r') {
        endLine(ready, i);
        ready = i + 1;
      }
    }
    looked = filled;
    if (ended && ready < filled) {
      endLine(ready, filled);
      ready = filled;
    } else if (filled - ready > LONGEST) {
      drop();
    }
  }

  /** Keeps no more of a line than tells that it is too long. */
  private void drop() throws IOException {
    dropping = true;
    dropped += filled - ready;
    if (dropped > ENDLESS) {
      throw new IOException("line " + line + " has no end within " + ENDLESS + " bytes");
    }
    filled = ready + BYTE_ORDER_MARK.length + 1;
    looked = filled;
  }

  private void endLine(int start, int to) {
    int from = line == 1 && marked(start, to) ? start + BYTE_ORDER_MARK.length : start;
    boolean comment = to > from && room[from] == '#';
    boolean overlong = dropping || to - from > LONGEST;
    dropping = false;
    dropped = 0;
    if (overlong) {
      Arrays.fill(room, from + 1, to, (byte) ' ');
    }
    if (overlong && !comment) {
      room[from] = (byte) OVERLONG.charAt(0);
      faults.add(LineFaults.Kind.OVERLONG, line);
    } else if (!comment) {
      judgeQuotes(from, to);
    }
    line++;
  }

  private void judgeQuotes(int from, int to) {
    LineFaults.Kind fault = QuotedLine.fault(room, from, to);
    if (fault != null) {
      apostrophes(from, to);
      faults.add(fault, line);
    }
  }

  private boolean marked(int from, int to) {
    int end = from + BYTE_ORDER_MARK.length;
    return end < to && Arrays.equals(room, from, end, BYTE_ORDER_MARK, 0, BYTE_ORDER_MARK.length);
  }

  private void apostrophes(int from, int to) {
    for (int i = from; i < to; i++) {
      if (room[i] == '"') {
        room[i] = '\'';
      }
    }
  }
}
