package org.solarmargin.cli.mavlink;

import io.dronefleet.mavlink.MavlinkDialect;
import io.dronefleet.mavlink.annotations.MavlinkMessageInfo;
import io.dronefleet.mavlink.common.CommonDialect;
import io.dronefleet.mavlink.protocol.MavlinkPacket;
import io.dronefleet.mavlink.serialization.payload.MavlinkPayloadDeserializer;
import io.dronefleet.mavlink.serialization.payload.reflection.ReflectionPayloadDeserializer;
import java.util.HashMap;
import java.util.Map;

/** The common message set: tells whether a packet belongs to it, and decodes its message. */
public final class MessageSet {

  private record Type(Class<?> payload, int checksumSeed) {}

  /** The incompatibility flag of signed packets, the only one that is known. */
  private static final int SIGNED = 1;

  private final MavlinkDialect dialect = new CommonDialect();
  private final MavlinkPayloadDeserializer decoder = new ReflectionPayloadDeserializer();

  /**
   * Types by message id, for the messages received so far; bounded by the size of the message set.
   */
  private final Map<Integer, Type> types = new HashMap<>();

  /** Creates the set. */
  public MessageSet() {}

  /**
   * Whether a packet belongs to this set and is undamaged.
   *
   * @param packet any packet
   * @return false if its message is unknown, or its checksum is wrong
   */
  public boolean holds(MavlinkPacket packet) {
    Type type = type(packet.getMessageId());
    return type != null && packet.validateCrc(type.checksumSeed());
  }

  /**
   * Whether a packet may be decoded. A receiver must discard packets of MAVLink 2 with
   * incompatibility flags that it does not know (MAVLink guide, "Packet Serialization").
   *
   * @param packet any packet
   * @return true for packets of MAVLink 1
   */
  public static boolean compatible(MavlinkPacket packet) {
    return !packet.isMavlink2() || (packet.getIncompatibleFlags() & ~SIGNED) == 0;
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
   * Decodes the message of a packet, if it is one that {@link MessageRows} uses: decoding is by far
   * the most expensive step.
   *
   * @param packet a packet for which {@link #holds} is true
   * @return the message; null if it is another one, is not {@link #compatible} or cannot be decoded
   */
  public Object message(MavlinkPacket packet) {
    Class<?> payload = type(packet.getMessageId()).payload();
    if (!compatible(packet) || !MessageRows.READ.contains(payload)) {
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
