package org.solarmargin.cli.watch;

import io.dronefleet.mavlink.MavlinkConnection;
import io.dronefleet.mavlink.MavlinkMessage;
import java.io.Closeable;
import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.cli.mavlink.Row;

/**
 * Rows from MAVLink packets of versions 1 and 2. Bytes that are no packet, packets whose checksum
 * is wrong and messages of other systems and components are passed over.
 */
final class MavlinkReader implements QueuedSource.Reader {

  private static final double NANOS = 1e-9;

  private final MavlinkConnection link;
  private final Closeable from;
  private final MessageRows rows;
  private final int system;
  private final int component;

  /**
   * Reads from a stream.
   *
   * @param system the only one heard; 0 for any
   * @param component the only one heard; 0 for any
   */
  MavlinkReader(InputStream in, Closeable from, MessageRows rows, int system, int component) {
    link = MavlinkConnection.create(in, OutputStream.nullOutputStream());
    this.from = from;
    this.rows = rows;
    this.system = system;
    this.component = component;
  }

  @Override
  public Row next() throws IOException {
    while (true) {
      MavlinkMessage<?> message;
      try {
        message = link.next();
      } catch (EOFException e) {
        return null;
      } catch (RuntimeException e) {
        // a payload that the codec cannot take apart: not a message of this vehicle
        continue;
      }
      if (message == null) {
        return null;
      }
      boolean heard =
          (system == 0 || message.getOriginSystemId() == system)
              && (component == 0 || message.getOriginComponentId() == component);
      Row row = heard ? rows.of(message.getPayload(), System.nanoTime() * NANOS) : null;
      if (row != null) {
        return row;
      }
    }
  }

  @Override
  public void close() throws IOException {
    from.close();
  }
}
