package org.solarmargin.cli.live;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.solarmargin.cli.file.ChunkStream;
import org.solarmargin.cli.file.InputFault;

/**
 * The bytes of a serial line. If the device disappears, for example because it is unplugged,
 * reopening it is tried every second until it is back.
 */
final class SerialStream extends ChunkStream {

  private static final int ROOM = 4096;
  private static final int WAIT_MILLIS = 500;
  private static final int AGAIN_MILLIS = 1000;

  private final String device;
  private final int baud;
  private volatile SerialPort port;
  private volatile boolean closed;
  private volatile String problem = "";

  /** Opens a line; throws an {@link InputFault} with the reason if that fails. */
  SerialStream(String device, int baud) {
    super(new byte[ROOM]);
    this.device = device;
    this.baud = baud;
    String why = open();
    if (!why.isEmpty()) {
      throw new InputFault("serial " + device + ": " + why);
    }
  }

  /** Opens the port; returns the reason if that fails, else an empty text. */
  private String open() {
    Path file = Path.of(device);
    if (device.startsWith("/") && !Files.exists(file)) {
      return "no such device: is it plugged in?";
    }
    try {
      // links by vendor or by port may point to another device each time, so they are resolved
      // again
      SerialPort opened =
          SerialPort.getCommPort(Files.exists(file) ? file.toRealPath().toString() : device);
      opened.setBaudRate(baud);
      opened.setComPortTimeouts(SerialPort.TIMEOUT_READ_SEMI_BLOCKING, WAIT_MILLIS, 0);
      if (opened.openPort()) {
        port = opened;
        return "";
      }
      return refusal(
          !Files.exists(file) || (Files.isReadable(file) && Files.isWritable(file)),
          opened.getLastErrorCode());
    } catch (SerialPortInvalidPortException | IOException e) {
      return "no such device: is it plugged in?";
    }
  }

  /** Why the system refused to open an existing device. */
  static String refusal(boolean permitted, int error) {
    return permitted
        ? "cannot be opened (error "
            + error
            + "): another program has it open, or it is not a serial line: close the other program"
        : "no permission: add your user to the group that owns it (often dialout), and log in"
            + " again";
  }

  /** The problem with the device; empty if there is none. */
  String problem() {
    return problem;
  }

  @Override
  protected boolean next() throws IOException {
    int count = closed ? -1 : port.readBytes(chunk, ROOM);
    if (closed) {
      return false;
    }
    if (count > 0) {
      at = 0;
      end = count;
    } else if (count < 0 || (device.startsWith("/") && !Files.exists(Path.of(device)))) {
      reopen();
    }
    return true;
  }

  private void reopen() throws IOException {
    problem = "the device has disappeared";
    port.closePort();
    try {
      do {
        Thread.sleep(AGAIN_MILLIS);
      } while (!closed && !open().isEmpty());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("interrupted", e);
    }
    if (closed) {
      port.closePort();
    }
    problem = "";
  }

  @Override
  public void close() {
    closed = true;
    port.closePort();
  }
}
