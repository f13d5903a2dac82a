package org.solarmargin.core.state;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.zip.CRC32;

/**
 * The saved form of a state: numbers, big-endian, and a CRC-32 over them. What the state is and to
 * what it belongs, its owner writes first and asks for first. Writes into and reads from the
 * caller's array; allocates nothing after construction.
 */
public final class StateBytes {

  /** Length of the check sum, the last thing in a state. */
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
   * A form.
   *
   * @param length of the whole, {@link #TAIL} included, bytes
   */
  public StateBytes(int length) {
    this.length = length;
  }

  /**
   * Begins a state; what is not written then is 0.
   *
   * @param to at least so many bytes as the form is long, from there on
   * @param from first byte
   */
  public void startWriting(byte[] to, int from) {
    Arrays.fill(to, from, from + length, (byte) 0);
    bytes = to;
    start = from;
    at = from;
  }

  /** Ends it with its check sum. */
  public void finishWriting() {
    INT.set(bytes, start + length - TAIL, sum());
    bytes = null;
  }

  /**
   * Begins to read a state.
   *
   * @param from where it is; null is none
   * @param offset of its first byte
   * @return whether these bytes are whole
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

  /** Writes numbers. */
  public void putAll(double[] values) {
    for (double value : values) {
      put(value);
    }
  }

  /** Writes numbers, each in four bytes. */
  public void putAll(float[] values) {
    for (float value : values) {
      putShort(value);
    }
  }

  /** Writes a number in four bytes. */
  public void putShort(double value) {
    putInt(Float.floatToRawIntBits((float) value));
  }

  /** Writes a whole number. */
  public void putInt(int value) {
    INT.set(bytes, at, value);
    at += Integer.BYTES;
  }

  /** Writes a long whole number. */
  public void putLong(long value) {
    LONG.set(bytes, at, value);
    at += Long.BYTES;
  }

  /** The next number. */
  public double get() {
    return Double.longBitsToDouble(getLong());
  }

  /** The next numbers. */
  public void getAll(double[] values) {
    for (int i = 0; i < values.length; i++) {
      values[i] = get();
    }
  }

  /** The next numbers, each of four bytes. */
  public void getAll(float[] values) {
    for (int i = 0; i < values.length; i++) {
      values[i] = (float) getShort();
    }
  }

  /** The next number, of four bytes. */
  public double getShort() {
    return Float.intBitsToFloat(getInt());
  }

  /** The next whole number. */
  public int getInt() {
    int value = (int) INT.get(bytes, at);
    at += Integer.BYTES;
    return value;
  }

  /** The next long whole number. */
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
