package org.solarmargin.cli.live;

import java.util.concurrent.atomic.AtomicLongArray;

/**
 * Counts of what was received over a link. Written by the thread that reads the link; any thread
 * may read them.
 */
public final class LinkCounts {

  /** What is counted. */
  public enum Kind {
    /** Bytes that arrived. */
    BYTES,
    /** MAVLink packets whose checksum is right. */
    PACKETS,
    /** Packets of systems and components other than the accepted ones. */
    FOREIGN,
    /** Packets refused because they carry no signature, where a key is given. */
    UNSIGNED,
    /** Packets refused because their signature was not made with this key. */
    WRONG_SIGNATURE,
    /** Packets refused because their signature's time stamp is not newer than earlier ones. */
    REPLAYED,
    /** Rows with a reading of the bus. */
    READINGS,
    /** Rows with a command to the motors. */
    COMMANDS,
    /** Rows dropped because they were not taken in time. */
    DROPPED,
    /** Restarts of the boot clock. */
    CLOCK_RESTARTS
  }

  private final AtomicLongArray counts = new AtomicLongArray(Kind.values().length);

  /** Counts that are all zero. */
  public LinkCounts() {}

  /**
   * Adds to a count.
   *
   * @param kind which count
   * @param more the amount to add
   */
  public void add(Kind kind, long more) {
    counts.addAndGet(kind.ordinal(), more);
  }

  void set(Kind kind, long value) {
    counts.set(kind.ordinal(), value);
  }

  /**
   * One count.
   *
   * @param kind which count
   * @return 0 or more
   */
  public long of(Kind kind) {
    return counts.get(kind.ordinal());
  }

  /**
   * Packets refused because of their signature.
   *
   * @return 0 or more; 0 without a key
   */
  public long refused() {
    return of(Kind.UNSIGNED) + of(Kind.WRONG_SIGNATURE) + of(Kind.REPLAYED);
  }
}
