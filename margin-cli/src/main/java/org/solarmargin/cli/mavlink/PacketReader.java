package org.solarmargin.cli.mavlink;

import io.dronefleet.mavlink.protocol.MavlinkPacket;
import io.dronefleet.mavlink.protocol.MavlinkPacketReader;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;

/**
 * Reads packets of the common message set, versions 1 and 2, from a stream. Bytes outside packets
 * and packets with a wrong checksum are skipped. Payloads are decoded, which is by far the most
 * expensive step, only on request, so that a flood of other packets costs little.
 */
public final class PacketReader {

  private final MavlinkPacketReader in;
  private final MessageSet messages = new MessageSet();

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
      if (!messages.holds(packet)) {
        in.drop();
      } else if (MessageSet.compatible(packet)) {
        return packet;
      }
    }
  }

  /**
   * Decodes the message of a packet, if it is one that {@link MessageRows} uses.
   *
   * @param packet a packet returned by {@link #next}
   * @return the message; null if it is another one or cannot be decoded
   */
  public Object message(MavlinkPacket packet) {
    return messages.message(packet);
  }
}
