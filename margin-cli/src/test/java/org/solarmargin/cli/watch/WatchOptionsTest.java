package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.DatagramPacket;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.SocketTimeoutException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;

/** What a watch shows at a terminal, and what its options refuse. */
class WatchOptionsTest {

  @TempDir private Path folder;

  private Cli watch(String... more) throws IOException {
    Path craft =
        Files.writeString(
            folder.resolve("craft.properties"),
            Files.readString(Cli.STILT) + "\nsensor.current_step_a = 0.01\n");
    List<String> words = new ArrayList<>(List.of("watch", "--craft", craft.toString()));
    words.addAll(List.of(more));
    return Cli.run(words.toArray());
  }

  private Cli watchSlowFade(String... more) throws IOException {
    InputStream before = System.in;
    System.setIn(
        new ByteArrayInputStream(
            Files.readAllBytes(Cli.EXAMPLES.resolve("flights/slow-fade.csv"))));
    try {
      List<String> words = new ArrayList<>(List.of("--from", "-"));
      words.addAll(List.of(more));
      return watch(words.toArray(String[]::new));
    } finally {
      System.setIn(before);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "udp:0, --page, here, 2, '--page must be PORT or ADDRESS:PORT, and a port 0 to 65535: here'",
    "udp:0, --page, ':x', 2, '--page must be PORT or ADDRESS:PORT, and a port 0 to 65535: :x'",
    "udp:0, --reply, nowhere, 2, '--reply must be HOST:PORT, and a port 0 to 65535: nowhere'",
    "udp:0, --reply, 'localhost:x', 2, '--reply must be HOST:PORT, and a port 0 to 65535: localhost:x'",
    "udp:0, --reply, 'localhost:65536', 2, '--reply must be HOST:PORT, and a port 0 to 65535: localhost:65536'",
    "udp:0, --reply, 'nowhere.invalid:9', 3, 'nowhere.invalid: no such host is known here: check"
        + " the name, or give its address in numbers'",
    "udp:x, --until-silent, 1, 2, --from must end with a whole number: udp:x",
    "serial:/dev/x:y, --until-silent, 1, 2, --from must end with a whole number: serial:/dev/x:y",
    "udp, --until-silent, 1, 2, '--from must be -, udp:PORT, udp:ADDRESS:PORT or"
        + " serial:DEVICE:BAUD: udp'",
    "serial:/dev/x, --until-silent, 1, 2, '--from must be -, udp:PORT, udp:ADDRESS:PORT or"
        + " serial:DEVICE:BAUD: serial:/dev/x'",
    "udp:70000, --until-silent, 1, 3, 'udp:127.0.0.1:70000: cannot be opened: port out of"
        + " range:70000'",
  })
  void whatIsNoPortOrHostIsRefused(
      String from, String option, String value, int status, String line) throws IOException {
    Cli run = watch("--from", from, option, value);
    assertEquals(status, run.status, run.err);
    assertEquals(line, run.err.lines().findFirst().orElseThrow());
  }

  @Test
  void aPageWhosePortIsTakenIsSaid() throws IOException {
    try (ServerSocket taken = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
      Cli run = watch("--from", "udp:0", "--page", "127.0.0.1:" + taken.getLocalPort());
      assertEquals(3, run.status, run.err);
      assertTrue(run.err.contains("the port is in use by another program"), run.err);
      assertEquals(1, run.err.lines().count(), run.err);
    }
  }

  @Test
  void aKeyIsForMavlinkAndNotForOthersToRead() throws IOException {
    Path key = Files.writeString(folder.resolve("key"), "0123456789abcdef".repeat(4));
    Cli run = watch("--from", "-", "--key", key.toString());
    assertEquals(2, run.status);
    assertTrue(
        run.err.contains("--key is for MAVLink; lines of a log have no signatures"), run.err);
    Path shorter = Files.writeString(folder.resolve("short"), "0123");
    Cli refused = watch("--from", "udp:0", "--key", shorter.toString());
    assertEquals(3, refused.status);
    assertTrue(refused.err.startsWith(shorter + ": "), refused.err);
    Cli missing = watch("--from", "udp:0", "--key", folder.resolve("none").toString());
    assertEquals(3, missing.status);
    assertTrue(missing.err.contains("none: the key cannot be read"), missing.err);
  }

  /**
   * Texts of the alerts, by MAVLink's severities: CAUTION is a warning (4), WARNING critical (2).
   */
  @Test
  void alertsAreSentBackWithTheirSeverity() throws IOException {
    try (DatagramSocket station = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
      station.setReceiveBufferSize(1 << 20);
      station.setSoTimeout(200);
      Cli run = watchSlowFade("--reply", "127.0.0.1:" + station.getLocalPort());
      assertEquals(0, run.status, run.err);
      List<String> texts = new ArrayList<>();
      byte[] room = new byte[300];
      try {
        while (true) {
          DatagramPacket packet = new DatagramPacket(room, room.length);
          station.receive(packet);
          // STATUSTEXT is message 253: severity, then the text
          if ((room[7] & 0xff) == 253) {
            String text = new String(room, 11, packet.getLength() - 13, StandardCharsets.UTF_8);
            texts.add(room[10] + " " + text);
          }
        }
      } catch (SocketTimeoutException e) {
        // all have come
      }
      assertTrue(texts.stream().anyMatch(t -> t.startsWith("4 CAUTION raised: ")), texts + "");
      assertTrue(texts.stream().anyMatch(t -> t.startsWith("2 WARNING raised: ")), texts + "");
      assertTrue(texts.stream().anyMatch(t -> t.startsWith("6 WARNING cleared: ")), texts + "");
    }
  }

  /** Whose packets can come in is said before anything else; silence ends a watch on request. */
  @ParameterizedTest
  @CsvSource({
    "udp:0, (this machine only)",
    "udp:127.0.0.1:0, (this machine only)",
    "udp:0.0.0.0:0, (OPEN TO THE NETWORK)"
  })
  void aLinkSaysWhetherItIsOpen(String from, String words) throws IOException {
    Cli run = watch("--from", from, "--until-silent", "0.2", "--page", "127.0.0.1:0");
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.lines().findFirst().orElseThrow().contains(words), run.out);
    assertTrue(run.out.contains("Page: http://127.0.0.1:"), run.out);
    Cli local = watch("--from", from, "--until-silent", "0.2", "--page", "0");
    assertFalse(local.out.contains("Page: http://127.0.0.1:0/"), local.out);
  }
}
