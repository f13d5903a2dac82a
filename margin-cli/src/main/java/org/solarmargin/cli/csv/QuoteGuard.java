package org.solarmargin.cli.csv;

import java.io.IOException;
import java.io.InputStream;
import java.util.Arrays;
import org.solarmargin.cli.file.ChunkStream;

/**
 * Confines a fault in one line of CSV text to that line. Fields of the tables read here never span
 * lines, so each line is checked separately: where its quotes are unbalanced, each of them is read
 * as an apostrophe; a line longer than {@link #LONGEST} is read as the single field {@link
 * #OVERLONG}. Lines end with LF, CR or CRLF.
 */
public final class QuoteGuard extends ChunkStream {

  /** Longest line that is read, bytes. */
  public static final int LONGEST = 1 << 20;

  /** An input with a line longer than this, bytes, is refused as not being text. */
  public static final int ENDLESS = 1 << 26;

  /** The field read in place of a longer line. */
  public static final String OVERLONG = "?";

  private static final int CHUNK = 8192;

  private static final byte[] BYTE_ORDER_MARK = {(byte) 0xef, (byte) 0xbb, (byte) 0xbf};

  private final LineFaults faults = new LineFaults();
  private final InputStream in;

  /** Number of bytes in the chunk; complete lines are available up to {@link #end}. */
  private int filled;

  /** The bytes up to here have been scanned for line ends. */
  private int looked;

  private boolean ended;
  private boolean afterReturn;
  private boolean dropping;
  private long dropped;
  private long line = 1;

  /**
   * Wraps a stream.
   *
   * @param in text in any encoding that keeps ASCII
   */
  public QuoteGuard(InputStream in) {
    super(new byte[2 * CHUNK]);
    this.in = in;
  }

  /**
   * Faults of the lines so far, comments excluded. Lines are checked before they are read.
   *
   * @return the same object each time
   */
  public LineFaults faults() {
    return faults;
  }

  @Override
  public int available() {
    return end - at;
  }

  @Override
  public long skip(long count) {
    int skipped = (int) Math.max(0, Math.min(count, end - at));
    at += skipped;
    return skipped;
  }

  /** Makes complete lines available. */
  @Override
  protected boolean next() throws IOException {
    if (ended && at == filled) {
      return false;
    }
    System.arraycopy(chunk, at, chunk, 0, filled - at);
    filled -= at;
    looked -= at;
    end = 0;
    at = 0;
    takeMore();
    makeReady();
    return true;
  }

  private void takeMore() throws IOException {
    if (chunk.length - filled < CHUNK) {
      chunk = Arrays.copyOf(chunk, 2 * chunk.length);
    }
    int got = ended ? -1 : in.read(chunk, filled, CHUNK);
    ended |= got < 0;
    filled += Math.max(got, 0);
  }

  private void makeReady() throws IOException {
    for (int i = looked; i < filled; i++) {
      byte one = chunk[i];
      boolean secondOfPair = one == '\n' && afterReturn;
      afterReturn = one == '\r';
      if (secondOfPair) {
        end = i + 1;
      } else if (one == '\n' || one == '\r') {
        endLine(end, i);
        end = i + 1;
      }
    }
    looked = filled;
    if (ended && end < filled) {
      endLine(end, filled);
      end = filled;
    } else if (filled - end > LONGEST) {
      drop();
    }
  }

  /** Discards all of a line but the few bytes that mark it as too long. */
  private void drop() throws IOException {
    dropping = true;
    dropped += filled - end;
    if (dropped > ENDLESS) {
      throw new IOException("line " + line + " has no end within " + ENDLESS + " bytes");
    }
    filled = end + BYTE_ORDER_MARK.length + 1;
    looked = filled;
  }

  private void endLine(int start, int to) {
    int from = line == 1 && marked(start, to) ? start + BYTE_ORDER_MARK.length : start;
    boolean comment = to > from && chunk[from] == '#';
    boolean overlong = dropping || to - from > LONGEST;
    dropping = false;
    dropped = 0;
    if (overlong) {
      Arrays.fill(chunk, from + 1, to, (byte) ' ');
    }
    if (overlong && !comment) {
      chunk[from] = (byte) OVERLONG.charAt(0);
      faults.add(LineFaults.Kind.OVERLONG, line);
    } else if (!comment) {
      judgeQuotes(from, to);
    }
    line++;
  }

  private void judgeQuotes(int from, int to) {
    LineFaults.Kind fault = QuotedLine.fault(chunk, from, to);
    if (fault != null) {
      apostrophes(from, to);
      faults.add(fault, line);
    }
  }

  private boolean marked(int from, int to) {
    int end = from + BYTE_ORDER_MARK.length;
    return end < to && Arrays.equals(chunk, from, end, BYTE_ORDER_MARK, 0, BYTE_ORDER_MARK.length);
  }

  private void apostrophes(int from, int to) {
    for (int i = from; i < to; i++) {
      if (chunk[i] == '"') {
        chunk[i] = '\'';
      }
    }
  }

  @Override
  public void close() throws IOException {
    in.close();
  }
}
