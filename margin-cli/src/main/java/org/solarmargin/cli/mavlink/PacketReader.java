package org.solarmargin.cli.mavlink;

import io.dronefleet.mavlink.protocol.MavlinkPacket;
import io.dronefleet.mavlink.protocol.MavlinkPacketReader;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;

/**
 * Packets of the common message set from a stream, versions 1 and 2. Bytes that are no packet and
 * packets whose checksum is wrong are passed over. A payload is taken apart, which costs by far the
 * most, only where it is asked for, so that a flood of others costs little.
 */
public final class PacketReader {

  /** The signature; packets with other incompatibility flags are not to be read. */
  private static final int KNOWN_FLAGS = 1;

  private final MavlinkPacketReader in;
  private final MessageSet messages = new MessageSet();

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
      if (!messages.holds(packet)) {
        in.drop();
      } else if (!packet.isMavlink2() || (packet.getIncompatibleFlags() & ~KNOWN_FLAGS) == 0) {
        return packet;
      }
    }
  }

  /**
   * The message of a packet, where it is one that {@link MessageRows} looks at.
   *
   * @param packet as {@link #next} gave it
   * @return null if it is another, or cannot be taken apart
   */
  public Object message(MavlinkPacket packet) {
    return messages.message(packet);
  }
}
