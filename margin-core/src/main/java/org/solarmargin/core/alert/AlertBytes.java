package org.solarmargin.core.alert;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.zip.CRC32;

/**
 * The saved form of standing alerts: big-endian, with a mark, a version and a CRC-32 over the rest.
 * Writes into and reads from the caller's array; allocates nothing after construction.
 */
final class AlertBytes {

  private static final int MARK = 0x534d414c;
  private static final int VERSION = 1;
  private static final int HEADER = 8;
  private static final int TAIL = 4;
  private static final int INTS = 5;
  private static final int LONGS = 3;
  private static final int DOUBLES = 10;

  /** Length of the saved form. */
  static final int LENGTH =
      HEADER + INTS * Integer.BYTES + LONGS * Long.BYTES + DOUBLES * Double.BYTES + TAIL;

  private static final VarHandle INT =
      MethodHandles.byteArrayViewVarHandle(int[].class, ByteOrder.BIG_ENDIAN);
  private static final VarHandle LONG =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private final CRC32 crc = new CRC32();
  private byte[] bytes;
  private int start;
  private int at;

  void startWriting(byte[] to, int from) {
    bytes = to;
    start = from;
    at = from;
    putInt(MARK);
    putInt(VERSION);
  }

  void putInt(int value) {
    INT.set(bytes, at, value);
    at += Integer.BYTES;
  }

  void putLong(long value) {
    LONG.set(bytes, at, value);
    at += Long.BYTES;
  }

  void put(double value) {
    putLong(Double.doubleToRawLongBits(value));
  }

  void finishWriting() {
    putInt(sum());
  }

  /** Whether these bytes were written by this version and are whole. */
  boolean startReading(byte[] from, int offset) {
    if (from.length < offset + LENGTH) {
      return false;
    }
    bytes = from;
    start = offset;
    at = offset;
    return getInt() == MARK
        && getInt() == VERSION
        && (int) INT.get(bytes, start + LENGTH - TAIL) == sum();
  }

  int getInt() {
    int value = (int) INT.get(bytes, at);
    at += Integer.BYTES;
    return value;
  }

  long getLong() {
    long value = (long) LONG.get(bytes, at);
    at += Long.BYTES;
    return value;
  }

  double get() {
    return Double.longBitsToDouble(getLong());
  }

  private int sum() {
    crc.reset();
    crc.update(bytes, start, LENGTH - TAIL);
    return (int) crc.getValue();
  }
}
