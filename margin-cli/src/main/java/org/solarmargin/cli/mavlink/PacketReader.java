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
 * Reads packets of the common message set, versions 1 and 2, from a stream. Bytes outside packets
 * and packets with a wrong checksum are skipped. Payloads are decoded, which is by far the most
 * expensive step, only on request, so that a flood of other packets costs little.
 */
public final class PacketReader {

  /** Flag of signed packets; packets with other incompatibility flags must be ignored. */
  private static final int KNOWN_FLAGS = 1;

  private record Type(Class<?> payload, int checksumSeed) {}

  private final MavlinkPacketReader in;
  private final MavlinkDialect dialect = new CommonDialect();
  private final MavlinkPayloadDeserializer decoder = new ReflectionPayloadDeserializer();

  /**
   * Types by message id, for the messages received so far; bounded by the size of the message set.
   */
  private final Map<Integer, Type> types = new HashMap<>();

  /**
   * Reads from a stream.
   *
   * @param in the bytes
   */
  public PacketReader(InputStream in) {
    this.in = new MavlinkPacketReader(in);
  }

  /**
   * Reads the next packet.
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
   * Decodes the message of a packet, if it is one that {@link MessageRows} uses.
   *
   * @param packet a packet returned by {@link #next}
   * @return the message; null if it is another one or cannot be decoded
   */
  public Object message(MavlinkPacket packet) {
    Class<?> payload = type(packet.getMessageId()).payload();
    if (!MessageRows.READ.contains(payload)) {
      return null;
    }
    try {
      return decoder.deserialize(packet.getPayload(), payload);
    } catch (RuntimeException e) {
      // the codec cannot decode this payload, so it is not a valid message
      return null;
    }
  }
}
