package org.solarmargin.cli.watch;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.log.ColumnMap;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.core.profile.LogSources;

/** Opens what {@code --from} names. */
final class Sources {

  private final ColumnMap columns;
  private final MessageRows rows;
  private final LogSources sources;

  Sources(ColumnMap columns, MessageRows rows, LogSources sources) {
    this.columns = columns;
    this.rows = rows;
    this.sources = sources;
  }

  /**
   * Opens a source.
   *
   * @param name {@code -}, {@code udp:PORT}, {@code udp:ADDRESS:PORT} or {@code serial:DEVICE:BAUD}
   * @throws IllegalArgumentException with the rule, if the name has another form
   * @throws InputFault if it cannot be opened
   */
  RowSource open(String name) {
    if (name.equals("-")) {
      return new QueuedSource(
          new TextReader("standard input", System.in, columns), "standard input", true);
    }
    String[] parts = name.split(":", -1);
    if (parts[0].equals("udp") && (parts.length == 2 || parts.length == 3)) {
      return udp(parts.length == 3 ? parts[1] : "127.0.0.1", number(parts[parts.length - 1], name));
    }
    if (parts[0].equals("serial") && parts.length == 3) {
      return serial(parts[1], number(parts[2], name));
    }
    throw new IllegalArgumentException(
        "--from must be -, udp:PORT, udp:ADDRESS:PORT or serial:DEVICE:BAUD: " + name);
  }

  private static int number(String text, String name) {
    try {
      return Integer.parseInt(text);
    } catch (NumberFormatException e) {
      throw new IllegalArgumentException("--from ends with a whole number: " + name, e);
    }
  }

  private RowSource udp(String address, int port) {
    try {
      InetAddress at = InetAddress.getByName(address);
      DatagramSocket socket = new DatagramSocket(new InetSocketAddress(at, port));
      String where = at.isLoopbackAddress() ? " (this machine only)" : " (OPEN TO THE NETWORK)";
      return new QueuedSource(
          new MavlinkReader(
              new DatagramStream(socket), socket, rows, sources.system(), sources.component()),
          "udp " + address + " port " + socket.getLocalPort() + where,
          false);
    } catch (IOException | IllegalArgumentException e) {
      throw new InputFault("udp:" + address + ":" + port + ": cannot be opened: " + e.getMessage());
    }
  }

  private RowSource serial(String device, int baud) {
    SerialPort port;
    try {
      port = SerialPort.getCommPort(device);
    } catch (SerialPortInvalidPortException e) {
      throw new InputFault("serial " + device + ": no such device");
    }
    port.setBaudRate(baud);
    port.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, 0, 0);
    if (!port.openPort()) {
      throw new InputFault(
          "serial " + device + ": cannot be opened: is it there, free, and may you use it?");
    }
    return new QueuedSource(
        new MavlinkReader(
            port.getInputStream(), port::closePort, rows, sources.system(), sources.component()),
        "serial " + device + " at " + baud + " baud",
        false);
  }
}
