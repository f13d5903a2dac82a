package org.solarmargin.cli.csv;

import java.io.BufferedInputStream;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;

/**
 * Converts a table separated by semicolons or tabs to one separated by commas. In such a table a
 * comma outside quotes is a decimal mark and becomes a point. The separator is the candidate that
 * occurs most often in the header. The length of the text and its line ends do not change.
 */
public final class Dialect extends FilterInputStream {

  /** Only this much of the text is searched for the header, bytes. */
  private static final int PEEKED = 1 << 16;

  private final byte separator;
  private boolean quoted;

  private Dialect(InputStream in, byte separator) {
    super(in);
    this.separator = separator;
  }

  /**
   * Reads the header ahead, but nothing after it, so that a log that is still being written is not
   * waited for, and converts the separators where needed.
   *
   * @param in text in any encoding that keeps ASCII
   * @return the same bytes, or with commas in place of the separators
   * @throws IOException if the stream cannot be read
   */
  public static InputStream of(InputStream in) throws IOException {
    BufferedInputStream buffered = new BufferedInputStream(in, PEEKED);
    buffered.mark(PEEKED);
    byte separator = separator(buffered);
    buffered.reset();
    return separator == ',' ? buffered : new Dialect(buffered, separator);
  }

  /**
   * The separator that is most frequent in the first line that is not a comment; a comma if it has
   * none.
   */
  private static byte separator(InputStream text) throws IOException {
    int[] counts = new int[128];
    boolean fresh = true;
    boolean comment = false;
    boolean any = false;
    boolean inside = false;
    for (int i = 1; i < PEEKED; i++) {
      int one = text.read();
      boolean end = one == '\n' || one == '\r';
      if (one < 0 || (end && any && !comment)) {
        break;
      }
      if (end) {
        fresh = true;
        comment = false;
        any = false;
        continue;
      }
      comment |= fresh && one == '#';
      any |= one > ' ';
      fresh = false;
      inside ^= one == '"';
      if (!comment && !inside && one < counts.length) {
        counts[one]++;
      }
    }
    byte most = ',';
    for (byte other : new byte[] {';', '\t'}) {
      most = counts[other] > counts[most] ? other : most;
    }
    return most;
  }

  /**
   * Describes the separators that were recognised.
   *
   * @param stream any
   * @return human-readable; empty where fields are separated by commas
   */
  public static String description(InputStream stream) {
    return stream instanceof Dialect dialect
        ? (dialect.separator == ';' ? "fields separated by semicolons" : "fields separated by tabs")
            + ", a comma is a decimal mark"
        : "";
  }

  @Override
  public int read() throws IOException {
    int one = super.read();
    return one < 0 ? one : translated((byte) one) & 0xff;
  }

  @Override
  public int read(byte[] to, int from, int length) throws IOException {
    int got = super.read(to, from, length);
    for (int i = from; i < from + got; i++) {
      to[i] = translated(to[i]);
    }
    return got;
  }

  @Override
  public long skip(long count) throws IOException {
    // the skipped bytes may contain quotes
    long skipped = 0;
    while (skipped < count && read() >= 0) {
      skipped++;
    }
    return skipped;
  }

  @Override
  public boolean markSupported() {
    return false;
  }

  private byte translated(byte one) {
    if (one == '\n' || one == '\r') {
      quoted = false;
    } else if (one == '"') {
      quoted = !quoted;
    } else if (!quoted && one == separator) {
      return ',';
    } else if (!quoted && one == ',') {
      return '.';
    }
    return one;
  }
}
