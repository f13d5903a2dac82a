package org.solarmargin.cli.live;

import java.util.concurrent.atomic.AtomicLongArray;

/** What has come over a link so far. Written by the thread that reads it; any thread may look. */
public final class LinkCounts {

  /** What is counted. */
  public enum Kind {
    /** Bytes that arrived. */
    BYTES,
    /** MAVLink packets whose checksum is right. */
    PACKETS,
    /** Packets of other systems and components than the one that is heard. */
    FOREIGN,
    /** Packets refused because they carry no signature, where a key is given. */
    UNSIGNED,
    /** Packets refused because their signature is not of this key. */
    WRONG_SIGNATURE,
    /** Packets refused because their signature's time stamp is not newer than what came before. */
    REPLAYED,
    /** Rows with a reading of the bus. */
    READINGS,
    /** Rows with a command to the motors. */
    COMMANDS,
    /** Rows dropped because nobody took them in time. */
    DROPPED,
    /** Starts of the boot clock behind the first. */
    CLOCK_RESTARTS
  }

  private final AtomicLongArray counts = new AtomicLongArray(Kind.values().length);

  /** Nothing has come. */
  public LinkCounts() {}

  /**
   * Counts.
   *
   * @param kind of what
   * @param more how many
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
   * @param kind of what
   * @return 0 or more
   */
  public long of(Kind kind) {
    return counts.get(kind.ordinal());
  }

  /**
   * Packets refused for their signature.
   *
   * @return 0 or more; 0 without a key
   */
  public long refused() {
    return of(Kind.UNSIGNED) + of(Kind.WRONG_SIGNATURE) + of(Kind.REPLAYED);
  }
}
