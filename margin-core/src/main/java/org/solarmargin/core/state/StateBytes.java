package org.solarmargin.core.state;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.zip.CRC32;

/**
 * The saved form of a state: big-endian numbers, followed by their CRC-32. The owner of the state
 * writes its kind and version first and checks them first. Writes to and reads from the caller's
 * array; allocates nothing after construction.
 */
public final class StateBytes {

  /** Length of the checksum at the end of a state, bytes. */
  public static final int TAIL = Integer.BYTES;

  private static final VarHandle INT =
      MethodHandles.byteArrayViewVarHandle(int[].class, ByteOrder.BIG_ENDIAN);
  private static final VarHandle LONG =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private final CRC32 crc = new CRC32();
  private final int length;
  private byte[] bytes;
  private int start;
  private int at;

  /**
   * Creates the form of states of one length.
   *
   * @param length total length, including {@link #TAIL}, bytes
   */
  public StateBytes(int length) {
    this.length = length;
  }

  /**
   * Begins to write a state; bytes that are not written are 0.
   *
   * @param to the array to write to, with at least the total length from the first byte on
   * @param from index of the first byte
   */
  public void startWriting(byte[] to, int from) {
    Arrays.fill(to, from, from + length, (byte) 0);
    bytes = to;
    start = from;
    at = from;
  }

  /** Ends the state with its checksum. */
  public void finishWriting() {
    INT.set(bytes, start + length - TAIL, sum());
    bytes = null;
  }

  /**
   * Begins to read a state.
   *
   * @param from the array that holds it; null if there is none
   * @param offset index of its first byte
   * @return whether the checksum is right
   */
  public boolean startReading(byte[] from, int offset) {
    if (from == null || from.length < offset + length) {
      return false;
    }
    bytes = from;
    start = offset;
    at = offset;
    return (int) INT.get(bytes, start + length - TAIL) == sum();
  }

  /** Writes a number. */
  public void put(double value) {
    putLong(Double.doubleToRawLongBits(value));
  }

  /** Writes several numbers. */
  public void putAll(double[] values) {
    for (double value : values) {
      put(value);
    }
  }

  /** Writes several numbers, each in four bytes. */
  public void putAll(float[] values) {
    for (float value : values) {
      putFloat(value);
    }
  }

  /** Writes a number in four bytes. */
  public void putFloat(double value) {
    putInt(Float.floatToRawIntBits((float) value));
  }

  /** Writes an integer. */
  public void putInt(int value) {
    INT.set(bytes, at, value);
    at += Integer.BYTES;
  }

  /** Writes a long integer. */
  public void putLong(long value) {
    LONG.set(bytes, at, value);
    at += Long.BYTES;
  }

  /** Reads the next number. */
  public double get() {
    return Double.longBitsToDouble(getLong());
  }

  /** Reads the next number; 0 if it is negative or not finite. */
  public double getNonNegative() {
    double value = get();
    return value > 0 && value <= Double.MAX_VALUE ? value : 0;
  }

  /** Reads the next numbers. */
  public void getAll(double[] values) {
    for (int i = 0; i < values.length; i++) {
      values[i] = get();
    }
  }

  /** Reads the next numbers, each of four bytes. */
  public void getAll(float[] values) {
    for (int i = 0; i < values.length; i++) {
      values[i] = (float) getFloat();
    }
  }

  /** Reads the next number, of four bytes. */
  public double getFloat() {
    return Float.intBitsToFloat(getInt());
  }

  /** Reads the next integer. */
  public int getInt() {
    int value = (int) INT.get(bytes, at);
    at += Integer.BYTES;
    return value;
  }

  /** Reads the next long integer. */
  public long getLong() {
    long value = (long) LONG.get(bytes, at);
    at += Long.BYTES;
    return value;
  }

  private int sum() {
    crc.reset();
    crc.update(bytes, start, length - TAIL);
    return (int) crc.getValue();
  }
}
