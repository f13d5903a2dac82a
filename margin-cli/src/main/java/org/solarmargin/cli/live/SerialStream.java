package org.solarmargin.cli.live;

import com.fazecast.jSerialComm.SerialPort;
import com.fazecast.jSerialComm.SerialPortInvalidPortException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.solarmargin.cli.file.ChunkStream;
import org.solarmargin.cli.file.InputFault;

/**
 * The bytes of a serial line. A device that goes away, as when its plug is pulled, is opened anew
 * every second until it is there again.
 */
final class SerialStream extends ChunkStream {

  private static final int ROOM = 4096;
  private static final int WAIT_MILLIS = 500;
  private static final int AGAIN_MILLIS = 1000;

  private final String device;
  private final int baud;
  private volatile SerialPort port;
  private volatile boolean closed;
  private volatile String trouble = "";

  /** Opens a line; an {@link InputFault} says in one line why it cannot be. */
  SerialStream(String device, int baud) {
    super(new byte[ROOM]);
    this.device = device;
    this.baud = baud;
    String why = open();
    if (!why.isEmpty()) {
      throw new InputFault("serial " + device + ": " + why);
    }
  }

  /** Opens the port, or says why it cannot be opened. */
  private String open() {
    Path file = Path.of(device);
    if (device.startsWith("/") && !Files.exists(file)) {
      return "no such device: is it plugged in?";
    }
    try {
      // links that name a device by its maker or place are followed anew each time
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

  /** Why the system refused a device that is there. */
  static String refusal(boolean permitted, int error) {
    return permitted
        ? "cannot be opened (error "
            + error
            + "): another program has it open, or it is no serial line: close the other program"
        : "no permission: let your user into the group that owns it (often dialout), and log in"
            + " anew";
  }

  /** What is wrong with the device; empty if nothing is. */
  String trouble() {
    return trouble;
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
    trouble = "the device has gone";
    port.closePort();
    try {
      do {
        Thread.sleep(AGAIN_MILLIS);
      } while (!closed && !open().isEmpty());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("interrupted", e);
    }
    trouble = "";
  }

  @Override
  public void close() {
    closed = true;
    port.closePort();
  }
}
