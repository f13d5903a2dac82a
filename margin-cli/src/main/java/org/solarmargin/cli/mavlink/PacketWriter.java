package org.solarmargin.cli.mavlink;

import io.dronefleet.mavlink.MavlinkConnection;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;

/** Packets of version 2 from one system and component, signed where there is a key. */
public final class PacketWriter {

  /** Signatures of one link are told from those of another by this; there is but one here. */
  private static final int LINK = 0;

  private final ByteArrayOutputStream packet = new ByteArrayOutputStream();
  private final MavlinkConnection codec =
      MavlinkConnection.create(new ByteArrayInputStream(new byte[0]), packet);
  private final int system;
  private final int component;
  private final byte[] key;
  private long stamp;

  /**
   * A writer.
   *
   * @param system that sends, 1 to 255
   * @param component that sends, 1 to 255
   * @param key null for unsigned packets
   */
  public PacketWriter(int system, int component, SigningKey key) {
    this.system = system;
    this.component = component;
    this.key = key == null ? null : key.bytes();
  }

  /**
   * A message as a packet.
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
        // each stamp is later than the one before, whatever the machine's clock does
        stamp = Math.max(stamp + 1, SigningKey.now());
        codec.send2(system, component, payload, LINK, stamp, key);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("memory does not fail", e);
    }
    return packet.toByteArray();
  }
}
