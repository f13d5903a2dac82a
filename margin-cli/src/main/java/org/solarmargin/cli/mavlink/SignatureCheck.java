package org.solarmargin.cli.mavlink;

import io.dronefleet.mavlink.protocol.MavlinkPacket;
import java.util.HashMap;
import java.util.Map;
import java.util.function.LongSupplier;

/**
 * Checks that packets are signed with a key, and newer than all earlier ones of the same system,
 * component and link (MAVLink 2, message signing). The first packet of a stream may be up to a
 * minute behind this machine's clock.
 */
public final class SignatureCheck {

  /** The result of a check. */
  public enum Outcome {
    /** Signed with the key, and newer than all before. */
    GOOD,
    /** Of version 1, or without a signature. */
    UNSIGNED,
    /** Signed with another key, or altered. */
    WRONG,
    /** Not newer than an accepted one, or the first of a stream and more than a minute old. */
    OLD
  }

  private static final long MINUTE = 6_000_000;

  private final byte[] key;
  private final LongSupplier now;

  /**
   * Newest time stamp by stream. Only holders of the key can add streams, at most 2 to the 24th.
   */
  private final Map<Integer, Long> newest = new HashMap<>();

  /**
   * A check before any packet.
   *
   * @param key key of the link
   */
  public SignatureCheck(SigningKey key) {
    this(key, SigningKey::now);
  }

  SignatureCheck(SigningKey key, LongSupplier now) {
    this.key = key.bytes();
    this.now = now;
  }

  /**
   * Checks a packet, and stores its time stamp if it is good.
   *
   * @param packet a packet with a correct checksum
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
