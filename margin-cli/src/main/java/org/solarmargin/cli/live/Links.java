package org.solarmargin.cli.live;

import java.io.IOException;
import java.io.InputStream;
import java.net.BindException;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.SocketException;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.cli.mavlink.SignatureCheck;
import org.solarmargin.cli.mavlink.SigningKey;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.LogSources;

/**
 * Opens links that carry MAVLink. A link that cannot be opened throws an {@code InputFault} of one
 * line.
 */
public final class Links {

  /** Requested receive buffer, bytes; the system may grant less. */
  private static final int SOCKET_ROOM = 1 << 20;

  private final LogSources sources;
  private final int motors;
  private final SigningKey key;

  /**
   * Links to one craft.
   *
   * @param sources which system is accepted, and which of its messages
   * @param motors number of outputs that drive motors, 1 or more
   * @param key key with which packets must be signed; null if they need no signature
   */
  public Links(LogSources sources, int motors, SigningKey key) {
    this.sources = sources;
    this.motors = motors;
    this.key = key;
  }

  /**
   * Links to one craft as its profile states them, unsigned.
   *
   * @param craft profile with {@code link.*} keys or their defaults
   * @return the links
   */
  public static Links of(CraftProfile craft) {
    return new Links(craft.sources(), craft.rotors(), null);
  }

  /**
   * Opens a link.
   *
   * @param name {@code udp:PORT} (this machine only), {@code udp:ADDRESS:PORT} or {@code
   *     serial:DEVICE:BAUD}
   * @return the link; its rows are read from now on
   * @throws IllegalArgumentException with the rule, if the name has another form
   */
  public RowSource open(String name) {
    String[] parts = name.split(":", -1);
    if (parts[0].equals("udp") && (parts.length == 2 || parts.length == 3)) {
      return udp(parts.length == 3 ? parts[1] : "127.0.0.1", number(parts[parts.length - 1], name));
    }
    if (parts[0].equals("serial") && parts.length == 3) {
      int baud = number(parts[2], name);
      return source(
          new SerialStream(parts[1], baud), "serial " + parts[1] + " at " + baud + " baud", false);
    }
    throw new IllegalArgumentException(
        "--from must be -, udp:PORT, udp:ADDRESS:PORT or serial:DEVICE:BAUD: " + name);
  }

  private static int number(String text, String name) {
    try {
      return Integer.parseInt(text);
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException("--from must end with a whole number: " + name, e);
    }
  }

  /**
   * Reads a stream of packets, such as a file or a pipe, of which nothing is dropped.
   *
   * @param in closed with the link
   * @param description human-readable description
   * @return the link
   */
  public RowSource stream(InputStream in, String description) {
    return source(in, description, true);
  }

  private RowSource udp(String address, int port) {
    try {
      InetAddress at = InetAddress.getByName(address);
      DatagramSocket socket = new DatagramSocket(new InetSocketAddress(at, port));
      socket.setReceiveBufferSize(SOCKET_ROOM);
      String where = at.isLoopbackAddress() ? " (this machine only)" : " (OPEN TO THE NETWORK)";
      return source(
          new DatagramStream(socket),
          "udp " + address + " port " + socket.getLocalPort() + where,
          false);
    } catch (IOException | IllegalArgumentException e) {
      throw new InputFault("udp:" + address + ":" + port + ": cannot be opened: " + why(e));
    }
  }

  private static String why(Exception e) {
    if (e instanceof BindException && String.valueOf(e.getMessage()).contains("in use")) {
      return "the port is in use by another program: close that program, or use another port";
    }
    if (e instanceof SocketException && String.valueOf(e.getMessage()).contains("ermission")) {
      return "no permission: ports below 1024 are reserved for the system: use another port";
    }
    return e.getMessage();
  }

  private RowSource source(InputStream in, String description, boolean waits) {
    LinkCounts counts = new LinkCounts();
    SignatureCheck signatures = key == null ? null : new SignatureCheck(key);
    MessageRows rows = new MessageRows(sources, motors);
    return new QueuedSource(
        new LinkReader(in, rows, sources, signatures, counts), description, waits, counts);
  }
}
