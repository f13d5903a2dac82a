package org.solarmargin.cli.bench;

import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Locale;
import java.util.concurrent.atomic.AtomicLongArray;
import java.util.concurrent.locks.LockSupport;
import org.solarmargin.cli.live.FlightPackets;
import org.solarmargin.cli.live.Links;
import org.solarmargin.cli.live.LiveFeed;
import org.solarmargin.cli.live.RowSource;
import org.solarmargin.cli.mavlink.Row;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Measures the time from sending a packet over UDP loopback to the monitor's reading, at 400
 * messages a second. Arguments: profile, seconds. Run it in margin-cli, so that the demo flights
 * are found.
 */
public final class WatchLatency {

  private static final int PER_SECOND = 400;
  private static final int WARM_SECONDS = 5;
  private static final int STEP_MICROS = 1_000_000 / PER_SECOND;

  private WatchLatency() {}

  /**
   * Measures and prints.
   *
   * @param args profile, seconds
   * @throws Exception if the profile cannot be read or a socket cannot be opened
   */
  public static void main(String[] args) throws Exception {
    CraftProfile craft = CraftProfile.read(Path.of(args[0]));
    int messages = PER_SECOND * (WARM_SECONDS + Integer.parseInt(args[1]));
    int port;
    try (DatagramSocket free = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
      port = free.getLocalPort();
    }
    AtomicLongArray sent = new AtomicLongArray(messages);
    LiveFeed feed = new LiveFeed(craft);
    double[] micros = new double[messages];
    int count = 0;
    int warm = 0;
    try (RowSource link = Links.of(craft).open("udp:" + port)) {
      Thread sender = new Thread(() -> send(port, messages, sent));
      sender.start();
      while (sender.isAlive() || feed.age(LiveFeed.now()) < 1) {
        Row row = feed.await(link, 50);
        long now = System.nanoTime();
        // loopback keeps the order: outputs arrive as sent, as every second message
        if (row != null && !Double.isNaN(row.throttle())) {
          int number = 2 * (warm + count);
          if (number >= WARM_SECONDS * PER_SECOND) {
            micros[count++] = 1e-3 * (now - sent.get(number));
          } else {
            warm++;
          }
        }
      }
    }
    if (2 * (warm + count) != messages) {
      System.out.println(
          "packets were lost: " + 2 * (warm + count) + " of " + messages + " arrived");
      return;
    }
    Arrays.sort(micros, 0, count);
    System.out.printf(
        Locale.ROOT,
        "%d outputs timed (%d before, while warming up): median %.0f us, 99th percentile %.0f us,"
            + " most %.0f us%n",
        count,
        warm,
        micros[count / 2],
        micros[(int) (0.99 * count)],
        micros[count - 1]);
  }

  private static void send(int port, int messages, AtomicLongArray sent) {
    try (DatagramSocket socket = new DatagramSocket()) {
      FlightPackets flight = new FlightPackets();
      InetSocketAddress to = new InetSocketAddress(InetAddress.getLoopbackAddress(), port);
      long start = System.nanoTime();
      for (int i = 0; i < messages; i++) {
        long due = start + 1000L * STEP_MICROS * i;
        while (System.nanoTime() < due) {
          LockSupport.parkNanos(due - System.nanoTime());
        }
        byte[] packet =
            i % 2 == 0 ? flight.outputs(i / 8, (long) STEP_MICROS * i) : flight.bus(i / 8);
        sent.set(i, System.nanoTime());
        socket.send(new DatagramPacket(packet, packet.length, to));
      }
    } catch (java.io.IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }
}
