package org.solarmargin.cli.live;

import io.dronefleet.mavlink.protocol.MavlinkPacket;
import java.io.IOException;
import java.io.InputStream;
import org.solarmargin.cli.file.CountingStream;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.cli.mavlink.PacketReader;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.cli.mavlink.SignatureCheck;
import org.solarmargin.core.profile.LogSources;

/**
 * Reads rows from MAVLink packets of versions 1 and 2. Bytes outside packets and packets with a
 * wrong checksum are skipped; packets of other systems and components, and packets without a valid
 * signature where one is required, are skipped and counted.
 */
final class LinkReader implements QueuedSource.Reader {

  private final PacketReader packets;
  private final InputStream in;
  private final MessageRows rows;
  private final LogSources sources;
  private final SignatureCheck signatures;
  private final LinkCounts counts;

  /**
   * Reads from a stream.
   *
   * @param signatures null where packets need no signature
   */
  LinkReader(
      InputStream in,
      MessageRows rows,
      LogSources sources,
      SignatureCheck signatures,
      LinkCounts counts) {
    this.in = in;
    this.rows = rows;
    this.sources = sources;
    this.signatures = signatures;
    this.counts = counts;
    packets =
        new PacketReader(new CountingStream(in, count -> counts.add(LinkCounts.Kind.BYTES, count)));
  }

  @Override
  public Row next() throws IOException {
    for (MavlinkPacket packet = packets.next(); packet != null; packet = packets.next()) {
      Object message = accepts(packet) ? packets.message(packet) : null;
      Row row = message == null ? null : rows.of(message, LiveFeed.now());
      if (row != null) {
        counts.set(LinkCounts.Kind.CLOCK_RESTARTS, rows.clockRestarts());
        return row;
      }
    }
    return null;
  }

  private boolean accepts(MavlinkPacket packet) {
    counts.add(LinkCounts.Kind.PACKETS, 1);
    int system = sources.system();
    int component = sources.component();
    if ((system != 0 && packet.getSystemId() != system)
        || (component != 0 && packet.getComponentId() != component)) {
      counts.add(LinkCounts.Kind.FOREIGN, 1);
      return false;
    }
    SignatureCheck.Outcome outcome =
        signatures == null ? SignatureCheck.Outcome.GOOD : signatures.judge(packet);
    switch (outcome) {
      case UNSIGNED -> counts.add(LinkCounts.Kind.UNSIGNED, 1);
      case WRONG -> counts.add(LinkCounts.Kind.WRONG_SIGNATURE, 1);
      case OLD -> counts.add(LinkCounts.Kind.REPLAYED, 1);
      case GOOD -> {}
    }
    return outcome == SignatureCheck.Outcome.GOOD;
  }

  @Override
  public String problem() {
    return in instanceof SerialStream line ? line.problem() : "";
  }

  @Override
  public void close() throws IOException {
    in.close();
  }
}
