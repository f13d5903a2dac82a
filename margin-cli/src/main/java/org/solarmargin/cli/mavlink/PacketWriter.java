package org.solarmargin.cli.mavlink;

import io.dronefleet.mavlink.MavlinkConnection;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;

/** Writes packets of version 2 from one system and component, signed if there is a key. */
public final class PacketWriter {

  /** Link id in signatures; there is only one link here. */
  private static final int LINK = 0;

  private final ByteArrayOutputStream packet = new ByteArrayOutputStream();
  private final MavlinkConnection codec =
      MavlinkConnection.create(new ByteArrayInputStream(new byte[0]), packet);
  private final int system;
  private final int component;
  private final byte[] key;
  private long stamp;

  /**
   * Creates a writer.
   *
   * @param system id of the sending system, 1 to 255
   * @param component id of the sending component, 1 to 255
   * @param key signing key; null for unsigned packets
   */
  public PacketWriter(int system, int component, SigningKey key) {
    this.system = system;
    this.component = component;
    this.key = key == null ? null : key.bytes();
  }

  /**
   * Encodes a message as a packet.
   *
   * @param payload a message of the common set
   * @return its bytes
   */
  public byte[] packet(Object payload) {
    packet.reset();
    try {
      if (key == null) {
        codec.send2(system, component, payload);
      } else {
        // each stamp must be later than the one before, even if the system clock is set back
        stamp = Math.max(stamp + 1, SigningKey.now());
        codec.send2(system, component, payload, LINK, stamp, key);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("writing to memory failed", e);
    }
    return packet.toByteArray();
  }
}
