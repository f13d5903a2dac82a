package org.solarmargin.cli.live;

import java.io.IOException;
import java.io.InputStream;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.SocketException;

/** The bytes of datagrams, one after another; ends when the socket is closed. */
final class DatagramStream extends InputStream {

  private static final int LONGEST = 65_536;

  private final DatagramSocket socket;
  private final byte[] room = new byte[LONGEST];
  private int at;
  private int filled;

  DatagramStream(DatagramSocket socket) {
    this.socket = socket;
  }

  private boolean fill() throws IOException {
    while (at == filled) {
      DatagramPacket packet = new DatagramPacket(room, room.length);
      try {
        socket.receive(packet);
      } catch (SocketException e) {
        return false;
      }
      at = 0;
      filled = packet.getLength();
    }
    return true;
  }

  @Override
  public int read() throws IOException {
    return fill() ? room[at++] & 0xff : -1;
  }

  @Override
  public int read(byte[] to, int from, int length) throws IOException {
    if (length == 0) {
      return 0;
    }
    if (!fill()) {
      return -1;
    }
    int count = Math.min(length, filled - at);
    System.arraycopy(room, at, to, from, count);
    at += count;
    return count;
  }

  @Override
  public void close() {
    socket.close();
  }
}
