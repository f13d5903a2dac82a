package org.solarmargin.cli.mavlink;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.dronefleet.mavlink.MavlinkConnection;
import io.dronefleet.mavlink.annotations.MavlinkMessageInfo;
import io.dronefleet.mavlink.common.SysStatus;
import io.dronefleet.mavlink.protocol.MavlinkPacket;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import org.junit.jupiter.api.Test;

/** Packets with incompatibility flags that are not known are discarded, as MAVLink 2 requires. */
class MessageSetTest {

  private static final int UNKNOWN_FLAG = 2;
  private static final int HEADER = 10;

  private final MessageSet messages = new MessageSet();

  private static byte[] packet(int flags) throws IOException {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    MavlinkConnection.create(new ByteArrayInputStream(new byte[0]), out)
        .send2(1, 1, SysStatus.builder().voltageBattery(29_000).currentBattery(250).build());
    byte[] bytes = out.toByteArray();
    bytes[2] = (byte) flags;
    int end = HEADER + bytes[1];
    int checksum = checksum(bytes, end);
    bytes[end] = (byte) checksum;
    bytes[end + 1] = (byte) (checksum >> Byte.SIZE);
    return bytes;
  }

  /** CRC-16/MCRF4XX over all but the first byte and the seed of the message (MAVLink guide). */
  private static int checksum(byte[] bytes, int end) {
    int crc = 0xffff;
    for (int i = 1; i <= end; i++) {
      int seed = SysStatus.class.getAnnotation(MavlinkMessageInfo.class).crc();
      crc ^= (i < end ? bytes[i] : seed) & 0xff;
      for (int bit = 0; bit < Byte.SIZE; bit++) {
        crc = (crc & 1) == 0 ? crc >> 1 : crc >> 1 ^ 0x8408;
      }
    }
    return crc;
  }

  @Test
  void aPacketWithAnUnknownFlagIsUndamagedButNotDecoded() throws IOException {
    MavlinkPacket plain = MavlinkPacket.fromV2Bytes(packet(0));
    assertTrue(messages.holds(plain));
    SysStatus status = assertInstanceOf(SysStatus.class, messages.message(plain));
    assertEquals(29_000, status.voltageBattery());
    MavlinkPacket flagged = MavlinkPacket.fromV2Bytes(packet(UNKNOWN_FLAG));
    assertTrue(messages.holds(flagged), "its checksum is right");
    assertNull(messages.message(flagged));
  }

  @Test
  void aStreamGoesOnAfterIt() throws IOException {
    ByteArrayOutputStream stream = new ByteArrayOutputStream();
    stream.writeBytes(packet(UNKNOWN_FLAG));
    stream.writeBytes(packet(0));
    PacketReader reader = new PacketReader(new ByteArrayInputStream(stream.toByteArray()));
    assertEquals(0, reader.next().getIncompatibleFlags());
    assertNull(reader.next());
  }
}
