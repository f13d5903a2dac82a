package org.solarmargin.cli.log;

import io.dronefleet.mavlink.MavlinkConnection;
import io.dronefleet.mavlink.MavlinkMessage;
import java.io.BufferedInputStream;
import java.io.ByteArrayInputStream;
import java.io.DataInputStream;
import java.io.EOFException;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.cli.mavlink.Row;

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
  private static final int NONE = -1;
  private static final double MICROS = 1e-6;

  private final DataInputStream in;
  private final PacketStream packets = new PacketStream();
  private final MavlinkConnection codec =
      MavlinkConnection.create(packets, OutputStream.nullOutputStream());
  private final MessageRows rows;
  private boolean started;
  private int system = NONE;
  private long newest = Long.MIN_VALUE;

  TelemetryLog(Path file, MessageRows rows) throws IOException {
    this.rows = rows;
    in = new DataInputStream(new BufferedInputStream(Files.newInputStream(file), 1 << 16));
  }

  /** A stream of the bytes of one packet at a time. */
  private static final class PacketStream extends java.io.InputStream {
    private ByteArrayInputStream packet = new ByteArrayInputStream(new byte[0]);

    @Override
    public int read() {
      return packet.read();
    }

    @Override
    public int read(byte[] to, int from, int length) {
      return packet.read(to, from, length);
    }
  }

  @Override
  public String next() throws IOException {
    if (!started) {
      started = true;
      return "time_s,bus_v,bus_a,throttle";
    }
    try {
      while (true) {
        double arrival = in.readLong() * MICROS;
        byte[] packet = packet();
        Row row = packet == null ? null : row(packet, arrival);
        if (row != null) {
          return line(row);
        }
      }
    } catch (EOFException e) {
      return null;
    }
  }

  /** The packet after a time stamp; null if there is none, then the next byte is tried. */
  private byte[] packet() throws IOException {
    int magic = in.readUnsignedByte();
    if (magic != MAVLINK_1 && magic != MAVLINK_2) {
      return null;
    }
    int length = in.readUnsignedByte();
    int flags = in.readUnsignedByte();
    boolean two = magic == MAVLINK_2;
    int whole = length + (two ? OVERHEAD_2 + ((flags & SIGNED) != 0 ? SIGNATURE : 0) : OVERHEAD_1);
    byte[] packet = new byte[whole];
    packet[0] = (byte) magic;
    packet[1] = (byte) length;
    packet[2] = (byte) flags;
    in.readFully(packet, 3, whole - 3);
    return packet;
  }

  private Row row(byte[] packet, double arrival) throws IOException {
    packets.packet = new ByteArrayInputStream(packet);
    try {
      MavlinkMessage<?> message = codec.next();
      if (message == null || (system != NONE && message.getOriginSystemId() != system)) {
        return null;
      }
      Row row = rows.of(message.getPayload(), arrival);
      system = row == null ? system : message.getOriginSystemId();
      return row;
    } catch (EOFException e) {
      return null;
    }
  }

  private String line(Row row) {
    // a late message is placed just after the newest one
    newest = Math.max(newest + 1000, row.nanos());
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
