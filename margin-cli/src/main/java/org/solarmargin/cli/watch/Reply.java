package org.solarmargin.cli.watch;

import io.dronefleet.mavlink.common.MavSeverity;
import io.dronefleet.mavlink.common.NamedValueFloat;
import io.dronefleet.mavlink.common.Statustext;
import io.dronefleet.mavlink.minimal.Heartbeat;
import io.dronefleet.mavlink.minimal.MavAutopilot;
import io.dronefleet.mavlink.minimal.MavState;
import io.dronefleet.mavlink.minimal.MavType;
import java.io.Closeable;
import java.io.IOException;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetSocketAddress;
import java.util.Locale;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.cli.mavlink.PacketWriter;
import org.solarmargin.core.alert.AlertLevel;

/**
 * Sends data to be shown by the ground station over UDP: alerts as STATUSTEXT; margin, its lower
 * bound and the ceiling as NAMED_VALUE_FLOAT once a second; and a heartbeat.
 */
final class Reply implements Closeable {

  private static final double EVERY_SECONDS = 1;
  private static final int LONGEST_TEXT = 50;

  private final DatagramSocket socket;
  private final InetSocketAddress to;
  private final PacketWriter packets;
  private double last = Double.NEGATIVE_INFINITY;
  private boolean noData = true;

  Reply(InetSocketAddress to, PacketWriter packets) throws IOException {
    socket = new DatagramSocket();
    this.to = to;
    this.packets = packets;
  }

  /** Sends an alert. */
  void alert(LiveFeed.Alert alert) throws IOException {
    String text =
        String.format(
            Locale.ROOT,
            "%s %s: %s",
            alert.level(),
            alert.raised() ? "raised" : "cleared",
            alert.reason().words());
    text(alert.raised() ? severity(alert.level()) : MavSeverity.MAV_SEVERITY_INFO, text);
  }

  private void text(MavSeverity severity, String text) throws IOException {
    send(
        Statustext.builder()
            .severity(severity)
            .text(text.length() <= LONGEST_TEXT ? text : text.substring(0, LONGEST_TEXT))
            .build());
  }

  private static MavSeverity severity(AlertLevel level) {
    return switch (level) {
      case WARNING -> MavSeverity.MAV_SEVERITY_CRITICAL;
      case CAUTION -> MavSeverity.MAV_SEVERITY_WARNING;
      default -> MavSeverity.MAV_SEVERITY_NOTICE;
    };
  }

  /**
   * Sends the figures, at most once a second. Without data they are NaN, never the last good
   * values, and the change is reported immediately.
   */
  void figures(Figures figures, double local) throws IOException {
    if (figures.noData() != noData) {
      noData = figures.noData();
      text(
          noData ? MavSeverity.MAV_SEVERITY_WARNING : MavSeverity.MAV_SEVERITY_INFO,
          noData ? "NO DATA: margin unknown" : "margin: data available");
      last = Double.NEGATIVE_INFINITY;
    }
    if (local - last < EVERY_SECONDS) {
      return;
    }
    last = local;
    boolean known = !Double.isNaN(figures.availableWatts());
    send(
        Heartbeat.builder()
            .type(MavType.MAV_TYPE_ONBOARD_CONTROLLER)
            .autopilot(MavAutopilot.MAV_AUTOPILOT_INVALID)
            .systemStatus(known ? MavState.MAV_STATE_ACTIVE : MavState.MAV_STATE_STANDBY)
            .mavlinkVersion(3)
            .build());
    value("margin", figures.marginPercent(), figures);
    value("margin_low", figures.lowPercent(), figures);
    value("ceiling", figures.ceiling(), figures);
  }

  private void value(String name, double value, Figures figures) throws IOException {
    send(
        NamedValueFloat.builder()
            .timeBootMs(Math.round(figures.seconds() * 1000) & 0xffff_ffffL)
            .name(name)
            .value((float) value)
            .build());
  }

  private void send(Object payload) throws IOException {
    byte[] bytes = packets.packet(payload);
    socket.send(new DatagramPacket(bytes, bytes.length, to));
  }

  @Override
  public void close() {
    socket.close();
  }
}
