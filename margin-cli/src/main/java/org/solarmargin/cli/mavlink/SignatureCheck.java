package org.solarmargin.cli.mavlink;

import io.dronefleet.mavlink.protocol.MavlinkPacket;
import java.util.HashMap;
import java.util.Map;
import java.util.function.LongSupplier;

/**
 * Which packets are signed with a key, and newer than all before them of the same system, component
 * and link (MAVLink 2, message signing). The first of a stream may be a minute behind the clock of
 * this machine.
 */
public final class SignatureCheck {

  /** What a packet's signature says. */
  public enum Outcome {
    /** Signed with the key, and new. */
    GOOD,
    /** Of version 1, or without a signature. */
    UNSIGNED,
    /** Signed with another key, or altered. */
    WRONG,
    /** Not newer than one that was taken, or a stream that begins more than a minute ago. */
    OLD
  }

  private static final long MINUTE = 6_000_000;

  private final byte[] key;
  private final LongSupplier now;

  /** By stream: at most so many as holders of the key begin, 2 to the 24th in the worst case. */
  private final Map<Integer, Long> newest = new HashMap<>();

  /**
   * A check that has seen no packet.
   *
   * @param key of the link
   */
  public SignatureCheck(SigningKey key) {
    this(key, SigningKey::now);
  }

  SignatureCheck(SigningKey key, LongSupplier now) {
    this.key = key.bytes();
    this.now = now;
  }

  /**
   * Judges a packet, and remembers its time stamp if it is good.
   *
   * @param packet as it came, its checksum right
   * @return never null
   */
  public Outcome judge(MavlinkPacket packet) {
    if (!packet.isMavlink2() || !packet.isSigned()) {
      return Outcome.UNSIGNED;
    }
    if (!packet.validateSignature(key)) {
      return Outcome.WRONG;
    }
    int stream =
        (packet.getSystemId() << 16)
            | (packet.getComponentId() << 8)
            | (packet.getSignatureLinkId() & 0xff);
    long stamp = packet.getSignatureTimestamp();
    Long before = newest.get(stream);
    if (before == null ? stamp + MINUTE < now.getAsLong() : stamp <= before) {
      return Outcome.OLD;
    }
    newest.put(stream, stamp);
    return Outcome.GOOD;
  }
}
