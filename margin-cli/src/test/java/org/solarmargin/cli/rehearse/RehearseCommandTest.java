package org.solarmargin.cli.rehearse;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.net.SocketTimeoutException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.mavlink.PacketReader;

/** A scenario flown over a link, and the link's faults. */
class RehearseCommandTest {

  @TempDir private Path folder;

  private Cli rehearse(String to, String... more) throws IOException {
    Path scenario = folder.resolve("short.properties");
    Files.writeString(scenario, "scenario.title = Ten seconds\nplan = 10:10\n");
    List<String> words =
        new ArrayList<>(
            List.of("rehearse", scenario.toString(), "--craft", Cli.STILT.toString(), "--to", to));
    words.addAll(List.of(more));
    return Cli.run(words.toArray());
  }

  @ParameterizedTest
  @CsvSource({
    "--to, tcp:127.0.0.1:9, --to must be udp:HOST:PORT: tcp:127.0.0.1:9",
    "--to, udp:127.0.0.1, '--to must be udp:HOST:PORT, and a port 0 to 65535: 127.0.0.1'",
    "--to, udp:127.0.0.1:65536, '--to must be udp:HOST:PORT, and a port 0 to 65535:"
        + " 127.0.0.1:65536'",
    "--loss, 100.5, '--loss must be in [0, 100] percent: 100.5'",
    "--loss, -1, '--loss must be in [0, 100] percent: -1.0'",
    "--duplicate, 101, '--duplicate must be in [0, 100] percent: 101.0'",
    "--reorder, -0.1, '--reorder must be in [0, 86400] s: -0.1'",
    "--speed, -1, '--speed must be in [0, 1000] times real time: -1.0'",
    "--outage, 5, --outage must be START:SECONDS: 5",
    "--outage, 5:6:7, --outage must be START:SECONDS: 5:6:7",
    "--outage, -5:6, --outage must be START:SECONDS: -5:6",
    "--outage, 5:-6, --outage must be START:SECONDS: 5:-6",
    "--outage, five:6, --outage must be START:SECONDS: five:6",
  })
  void whatIsNoLinkIsRefusedInALine(String option, String value, String line) throws IOException {
    Cli run = option.equals("--to") ? rehearse(value) : rehearse("udp:127.0.0.1:9", option, value);
    assertEquals(2, run.status);
    assertEquals(line, run.err.lines().findFirst().orElseThrow());
    assertEquals("", run.out, "nothing was flown");
  }

  /**
   * Flat out, what is sent arrives: a heartbeat each second, outputs at 25 Hz, the bus at 10 Hz.
   */
  @Test
  void packetsArriveAtTheRatesOfTelemetry() throws IOException {
    try (DatagramSocket receiver = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
      receiver.setReceiveBufferSize(1 << 20);
      receiver.setSoTimeout(200);
      Cli run = rehearse("udp:127.0.0.1:" + receiver.getLocalPort(), "--speed", "0");
      assertEquals(0, run.status, run.err);
      int[] counts = new int[256];
      byte[] room = new byte[300];
      int all = 0;
      try {
        while (true) {
          DatagramPacket packet = new DatagramPacket(room, room.length);
          receiver.receive(packet);
          ByteArrayInputStream one = new ByteArrayInputStream(room, 0, packet.getLength());
          counts[new PacketReader(one).next().getMessageId()]++;
          all++;
        }
      } catch (SocketTimeoutException e) {
        // all have come
      }
      String[] lines = run.out.split("\n", -1);
      assertEquals("Ten seconds: 10 s to udp:127.0.0.1:" + receiver.getLocalPort(), lines[0]);
      assertEquals(all + " packets generated, " + all + " sent", lines[1]);
      // numbers of HEARTBEAT, SERVO_OUTPUT_RAW and BATTERY_STATUS in MAVLink's common set
      assertEquals(10, counts[0], 1);
      assertEquals(250, counts[36], 1);
      assertEquals(100, counts[147], 1);
    }
  }

  private static List<Integer> through(FlakyLink.Faults faults, int count) {
    List<Integer> got = new ArrayList<>();
    FlakyLink link = new FlakyLink(bytes -> got.add(bytes[0] + 128 * bytes[1]), faults, 1);
    for (int i = 0; i < count; i++) {
      link.send(0.1 * i, new byte[] {(byte) (i % 128), (byte) (i / 128)});
    }
    link.flush();
    assertEquals(got.size(), link.sent());
    return got;
  }

  @Test
  void aLinkWithoutFaultsKeepsTheOrder() {
    List<Integer> got = through(new FlakyLink.Faults(0, 0, 0, List.of()), 100);
    for (int i = 0; i < 100; i++) {
      assertEquals(i, got.get(i));
    }
    assertEquals(100, got.size());
  }

  /** Within four standard errors of a binomial count. */
  @Test
  void lossAndDoublesComeAsOftenAsStated() {
    int count = 5000;
    double fourErrors = 4 * Math.sqrt(count * 0.2 * 0.8);
    List<Integer> thinned = through(new FlakyLink.Faults(0.2, 0, 0, List.of()), count);
    assertEquals(0.8 * count, thinned.size(), fourErrors);
    List<Integer> doubled = through(new FlakyLink.Faults(0, 0.2, 0, List.of()), count);
    assertEquals(1.2 * count, doubled.size(), fourErrors);
    assertEquals(count, doubled.stream().distinct().count());
    assertEquals(0, through(new FlakyLink.Faults(1, 0, 0, List.of()), count).size());
  }

  /** Late by up to half a second at ten packets a second: five places at most. */
  @Test
  void lateOnesOvertakeNoMoreThanTheDelayAllows() {
    List<Integer> got = through(new FlakyLink.Faults(0, 0, 0.5, List.of()), 1000);
    assertEquals(1000, got.stream().distinct().count());
    int displaced = 0;
    for (int i = 0; i < 1000; i++) {
      assertTrue(Math.abs(got.get(i) - i) <= 5, i + " is " + got.get(i));
      displaced += got.get(i) == i ? 0 : 1;
    }
    assertTrue(displaced > 100, "displaced: " + displaced);
  }

  @Test
  void nothingPassesInAnOutage() {
    List<FlakyLink.Outage> outages =
        List.of(new FlakyLink.Outage(2, 3), new FlakyLink.Outage(8, 100));
    List<Integer> got = through(new FlakyLink.Faults(0, 0, 0, outages), 200);
    assertTrue(got.stream().allMatch(i -> i < 20 || (i >= 50 && i < 80)), got.toString());
    assertEquals(50, got.size());
  }
}
