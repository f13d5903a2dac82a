package org.solarmargin.cli.live;

import java.io.IOException;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.SocketException;
import org.solarmargin.cli.file.ChunkStream;

/** The concatenated bytes of datagrams; ends when the socket is closed. */
final class DatagramStream extends ChunkStream {

  private static final int LONGEST = 65_536;

  private final DatagramSocket socket;

  DatagramStream(DatagramSocket socket) {
    super(new byte[LONGEST]);
    this.socket = socket;
  }

  @Override
  protected boolean next() throws IOException {
    DatagramPacket packet = new DatagramPacket(chunk, chunk.length);
    try {
      socket.receive(packet);
    } catch (SocketException e) {
      return false;
    }
    at = 0;
    end = packet.getLength();
    return true;
  }

  @Override
  public void close() {
    socket.close();
  }
}
