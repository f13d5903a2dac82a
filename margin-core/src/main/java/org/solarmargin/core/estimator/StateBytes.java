package org.solarmargin.core.estimator;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import java.nio.ByteOrder;
import java.util.zip.CRC32;

/**
 * The saved form of an estimator: big-endian, with a mark, a version, a fingerprint of the settings
 * that it belongs to, and a CRC-32 over the rest. Writes into and reads from the caller's array;
 * allocates nothing after construction.
 */
final class StateBytes {

  /** Length of the saved form. */
  static final int LENGTH = 836 + UnevenLight.STATE_BYTES + Double.BYTES;

  private static final int MARK = 0x534d5253;
  private static final int VERSION = 7;
  private static final int HEADER = 16;
  private static final int TAIL = 4;
  private static final VarHandle INT =
      MethodHandles.byteArrayViewVarHandle(int[].class, ByteOrder.BIG_ENDIAN);
  private static final VarHandle LONG =
      MethodHandles.byteArrayViewVarHandle(long[].class, ByteOrder.BIG_ENDIAN);

  private final CRC32 crc = new CRC32();
  private final int fingerprint;
  private byte[] bytes;
  private int at;

  StateBytes(EstimatorSettings settings) {
    fingerprint = settings.hashCode();
  }

  void startWriting(byte[] to) {
    java.util.Arrays.fill(to, 0, LENGTH, (byte) 0);
    INT.set(to, 0, MARK);
    INT.set(to, 4, VERSION);
    INT.set(to, 8, fingerprint);
    bytes = to;
    at = HEADER;
  }

  void put(double value) {
    LONG.set(bytes, at, Double.doubleToRawLongBits(value));
    at += Double.BYTES;
  }

  void putAll(double[] values) {
    for (double value : values) {
      put(value);
    }
  }

  void putAll(float[] values) {
    for (float value : values) {
      putShort(value);
    }
  }

  void getAll(float[] values) {
    for (int i = 0; i < values.length; i++) {
      values[i] = (float) getShort();
    }
  }

  void getAll(double[] values) {
    for (int i = 0; i < values.length; i++) {
      values[i] = get();
    }
  }

  void putShort(double value) {
    INT.set(bytes, at, Float.floatToRawIntBits((float) value));
    at += Float.BYTES;
  }

  void finishWriting() {
    INT.set(bytes, LENGTH - TAIL, sum(bytes));
    bytes = null;
  }

  /** Whether these bytes were written by this version for these settings and are whole. */
  boolean startReading(byte[] from) {
    if (from == null || from.length < LENGTH) {
      return false;
    }
    boolean whole =
        (int) INT.get(from, 0) == MARK
            && (int) INT.get(from, 4) == VERSION
            && (int) INT.get(from, 8) == fingerprint
            && (int) INT.get(from, LENGTH - TAIL) == sum(from);
    bytes = from;
    at = HEADER;
    return whole;
  }

  double get() {
    double value = Double.longBitsToDouble((long) LONG.get(bytes, at));
    at += Double.BYTES;
    return value;
  }

  double getShort() {
    double value = Float.intBitsToFloat((int) INT.get(bytes, at));
    at += Float.BYTES;
    return value;
  }

  private int sum(byte[] from) {
    crc.reset();
    crc.update(from, 0, LENGTH - TAIL);
    return (int) crc.getValue();
  }
}
