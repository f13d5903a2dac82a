package org.solarmargin.cli.log;

import io.dronefleet.mavlink.protocol.MavlinkPacket;
import java.io.BufferedInputStream;
import java.io.DataInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.cli.mavlink.MessageSet;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.core.gate.SampleClock;

/**
 * Converts a recorded MAVLink stream, with a time stamp of eight bytes in microseconds before each
 * packet, to lines in the log format's own columns. It uses the messages named in the profile, from
 * the first system that sends one. A truncated file ends with its last complete packet; bytes
 * outside packets are skipped.
 */
final class TelemetryLog implements LineStream.Lines {

  private static final int MAVLINK_1 = 0xfe;
  private static final int MAVLINK_2 = 0xfd;

  /** Header and checksum of a packet of version 1, and of version 2 without a signature, bytes. */
  private static final int OVERHEAD_1 = 8;

  private static final int OVERHEAD_2 = 12;
  private static final int SIGNATURE = 13;
  private static final int SIGNED = 1;

  /** Longest packet, bytes. */
  private static final int LONGEST = 255 + OVERHEAD_2 + SIGNATURE;

  private static final int NONE = -1;
  private static final long NANOS_PER_MICRO = 1000;
  private static final double NANOS = 1e-9;

  /** A row that is older than the newest by more than this is of a clock that went back. */
  private static final long BACK_NANOS = 10_000_000_000L;

  private final DataInputStream in;
  private final MessageSet messages = new MessageSet();
  private final MessageRows rows;

  /** The recorder's clock; its stamps have no checksum, so that one may be damaged. */
  private final SampleClock recorder = new SampleClock();

  private boolean started;
  private int system = NONE;
  private long newest = Long.MIN_VALUE / 2;

  TelemetryLog(Path file, MessageRows rows) throws IOException {
    this.rows = rows;
    in = new DataInputStream(new BufferedInputStream(Files.newInputStream(file), 1 << 16));
  }

  @Override
  public String next() throws IOException {
    if (!started) {
      started = true;
      return "time_s,bus_v,bus_a,throttle";
    }
    try {
      long stamp = in.readLong();
      while (true) {
        int next = in.readUnsignedByte();
        MavlinkPacket packet = next == MAVLINK_1 || next == MAVLINK_2 ? packet(next) : null;
        if (packet == null) {
          // no packet follows these eight bytes, so the stamp begins at a later byte
          stamp = stamp << Byte.SIZE | next;
          continue;
        }
        recorder.judge(stamp * NANOS_PER_MICRO);
        Row row = row(packet, recorder.nanos() * NANOS);
        if (row != null) {
          return line(row);
        }
        stamp = in.readLong();
      }
    } catch (EOFException e) {
      return null;
    }
  }

  /**
   * Reads the packet after its first byte; returns null, with the stream reset, if there is none.
   */
  private MavlinkPacket packet(int magic) throws IOException {
    in.mark(LONGEST);
    try {
      int length = in.readUnsignedByte();
      int flags = in.readUnsignedByte();
      boolean two = magic == MAVLINK_2;
      int signature = two && (flags & SIGNED) != 0 ? SIGNATURE : 0;
      byte[] bytes = new byte[length + (two ? OVERHEAD_2 + signature : OVERHEAD_1)];
      bytes[0] = (byte) magic;
      bytes[1] = (byte) length;
      bytes[2] = (byte) flags;
      in.readFully(bytes, 3, bytes.length - 3);
      MavlinkPacket packet =
          two ? MavlinkPacket.fromV2Bytes(bytes) : MavlinkPacket.fromV1Bytes(bytes);
      if (messages.holds(packet)) {
        return packet;
      }
    } catch (EOFException e) {
      // truncated, or not a packet: one may still begin at a later byte
    }
    in.reset();
    return null;
  }

  private Row row(MavlinkPacket packet, double arrival) {
    if (system != NONE && packet.getSystemId() != system) {
      return null;
    }
    Object message = messages.message(packet);
    Row row = message == null ? null : rows.of(message, arrival);
    system = row == null ? system : packet.getSystemId();
    return row;
  }

  private String line(Row row) {
    // a late message is placed just after the newest one
    boolean back = (double) newest - row.nanos() > BACK_NANOS;
    newest = back ? row.nanos() : Math.max(newest + 1000, row.nanos());
    return String.format(
        Locale.ROOT,
        "%.6f,%s,%s,%s",
        newest * 1e-9,
        text(row.volts()),
        text(row.amps()),
        text(row.throttle()));
  }

  private static String text(double value) {
    return Double.isNaN(value) ? "" : String.format(Locale.ROOT, "%.4f", value);
  }

  @Override
  public void close() throws IOException {
    in.close();
  }
}
