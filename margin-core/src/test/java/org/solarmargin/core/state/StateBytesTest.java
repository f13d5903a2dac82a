package org.solarmargin.core.state;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.ByteBuffer;
import java.util.Arrays;
import java.util.zip.CRC32;
import org.junit.jupiter.api.Test;

/** The saved form, held against the JDK's ByteBuffer (big-endian) and its CRC-32. */
class StateBytesTest {

  private static final int AT = 5;
  private static final int FIELDS = 4 + 8 + 8 + 4 + 16 + 8;
  private static final int LENGTH = FIELDS + 6 + StateBytes.TAIL;

  private final StateBytes bytes = new StateBytes(LENGTH);

  private byte[] written() {
    byte[] to = new byte[AT + LENGTH + 3];
    Arrays.fill(to, (byte) 7);
    bytes.startWriting(to, AT);
    bytes.putInt(0x12345678);
    bytes.putLong(-2L);
    bytes.put(Math.PI);
    bytes.putFloat(0.1);
    bytes.putAll(new double[] {1, -0.0});
    bytes.putAll(new float[] {1.5f, 2.5f});
    bytes.finishWriting();
    return to;
  }

  @Test
  void valuesLieBigEndianWithAChecksumAtTheEnd() {
    ByteBuffer expected = ByteBuffer.allocate(LENGTH);
    expected.putInt(0x12345678).putLong(-2L).putDouble(Math.PI).putFloat(0.1f);
    expected.putDouble(1).putDouble(-0.0).putFloat(1.5f).putFloat(2.5f);
    CRC32 crc = new CRC32();
    crc.update(expected.array(), 0, LENGTH - 4);
    expected.putInt(LENGTH - 4, (int) crc.getValue());
    byte[] to = written();
    assertArrayEquals(expected.array(), Arrays.copyOfRange(to, AT, AT + LENGTH));
    assertArrayEquals(new byte[] {7, 7, 7, 7, 7}, Arrays.copyOf(to, AT), "nothing before it");
    assertArrayEquals(new byte[] {7, 7, 7}, Arrays.copyOfRange(to, AT + LENGTH, to.length));
  }

  @Test
  void whatWasWrittenIsRead() {
    assertTrue(bytes.startReading(written(), AT));
    assertEquals(0x12345678, bytes.getInt());
    assertEquals(-2L, bytes.getLong());
    assertEquals(Math.PI, bytes.get());
    assertEquals(0.1f, bytes.getFloat(), "seven digits");
    double[] doubles = new double[2];
    bytes.getAll(doubles);
    assertArrayEquals(new double[] {1, -0.0}, doubles);
    float[] floats = new float[2];
    bytes.getAll(floats);
    assertArrayEquals(new float[] {1.5f, 2.5f}, floats);
  }

  @Test
  void whatIsShortOrDamagedIsNotRead() {
    byte[] whole = written();
    assertFalse(bytes.startReading(null, 0));
    assertTrue(bytes.startReading(Arrays.copyOf(whole, AT + LENGTH), AT), "just long enough");
    assertFalse(bytes.startReading(Arrays.copyOf(whole, AT + LENGTH - 1), AT));
    for (int i = AT; i < AT + LENGTH; i++) {
      byte[] damaged = whole.clone();
      damaged[i] ^= 1;
      assertFalse(bytes.startReading(damaged, AT), "byte " + i);
    }
  }
}
