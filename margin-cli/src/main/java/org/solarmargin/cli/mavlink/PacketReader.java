package org.solarmargin.cli.mavlink;

import io.dronefleet.mavlink.MavlinkDialect;
import io.dronefleet.mavlink.annotations.MavlinkMessageInfo;
import io.dronefleet.mavlink.common.CommonDialect;
import io.dronefleet.mavlink.protocol.MavlinkPacket;
import io.dronefleet.mavlink.protocol.MavlinkPacketReader;
import io.dronefleet.mavlink.serialization.payload.MavlinkPayloadDeserializer;
import io.dronefleet.mavlink.serialization.payload.reflection.ReflectionPayloadDeserializer;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.util.HashMap;
import java.util.Map;

/**
 * Packets of the common message set from a stream, versions 1 and 2. Bytes that are no packet and
 * packets whose checksum is wrong are passed over. A payload is taken apart, which costs by far the
 * most, only where it is asked for, so that a flood of others costs little.
 */
public final class PacketReader {

  /** The signature; packets with other incompatibility flags are not to be read. */
  private static final int KNOWN_FLAGS = 1;

  private record Type(Class<?> payload, int checksumSeed) {}

  private final MavlinkPacketReader in;
  private final MavlinkDialect dialect = new CommonDialect();
  private final MavlinkPayloadDeserializer decoder = new ReflectionPayloadDeserializer();

  /** By message id, of messages that have come; no more than the set has. */
  private final Map<Integer, Type> types = new HashMap<>();

  /**
   * Reads from a stream.
   *
   * @param in bytes
   */
  public PacketReader(InputStream in) {
    this.in = new MavlinkPacketReader(in);
  }

  /**
   * The next packet.
   *
   * @return null at the end of the stream
   * @throws IOException if it cannot be read
   */
  public MavlinkPacket next() throws IOException {
    while (true) {
      MavlinkPacket packet;
      try {
        packet = in.next();
      } catch (EOFException e) {
        return null;
      }
      Type type = type(packet.getMessageId());
      if (type == null || !packet.validateCrc(type.checksumSeed())) {
        in.drop();
      } else if (!packet.isMavlink2() || (packet.getIncompatibleFlags() & ~KNOWN_FLAGS) == 0) {
        return packet;
      }
    }
  }

  private Type type(int id) {
    Type type = types.get(id);
    if (type == null && dialect.supports(id)) {
      Class<?> payload = dialect.resolve(id);
      type = new Type(payload, payload.getAnnotation(MavlinkMessageInfo.class).crc());
      types.put(id, type);
    }
    return type;
  }

  /**
   * The message of a packet, where it is one that {@link MessageRows} looks at.
   *
   * @param packet as {@link #next} gave it
   * @return null if it is another, or cannot be taken apart
   */
  public Object message(MavlinkPacket packet) {
    Class<?> payload = type(packet.getMessageId()).payload();
    if (!MessageRows.READ.contains(payload)) {
      return null;
    }
    try {
      return decoder.deserialize(packet.getPayload(), payload);
    } catch (RuntimeException e) {
      // a payload that the codec cannot take apart: not a message of this vehicle
      return null;
    }
  }
}
