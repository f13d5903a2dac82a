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
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.live.LiveFeed;

/** Telemetry in, margin and alerts out, over loopback and a bad link. */
class WatchCommandTest {

  @TempDir private Path folder;

  /** The logger's timing is stated: a live monitor needs some 80 s to find it. */
  private Path craft() throws IOException {
    return Files.writeString(
        folder.resolve("craft.properties"),
        Files.readString(Cli.STILT) + "\nsensor.current_step_a = 0.01\n");
  }

  private static int freePort() throws IOException {
    try (DatagramSocket socket = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
      return socket.getLocalPort();
    }
  }

  private static List<String> alertsOfLog(Path log) throws IOException {
    List<String> alerts = new ArrayList<>();
    for (String line : Files.readAllLines(log)) {
      if (line.startsWith("#")) {
        continue; // when the first row came
      }
      String[] f = line.split(",", -1);
      if (!f[0].startsWith("time") && !f[10].isEmpty()) {
        for (String alert : f[10].split("; ", -1)) {
          alerts.add(alert.replace(' ', ','));
        }
      }
    }
    return alerts;
  }

  private List<String> alertsOfReplay(Path log, Path craft) throws IOException {
    Path alerts = folder.resolve("alerts.csv");
    Cli replay = Cli.run("replay", log, "--craft", craft, "--alerts", alerts);
    assertEquals(0, replay.status, replay.err);
    return Files.readAllLines(alerts).stream()
        .skip(1)
        .map(line -> line.replaceFirst("^[^,]*,([^,]*,[^,]*),.*", "$1"))
        .toList();
  }

  @Test
  void aRehearsalOverABadLinkHasTheAlertsOfTheReplayOfItsLog() throws Exception {
    Path craft = craft();
    Path log = folder.resolve("flight.csv");
    int port = freePort();
    CompletableFuture<Cli> watch =
        CompletableFuture.supplyAsync(
            () ->
                Cli.run(
                    "watch",
                    "--craft",
                    craft,
                    "--from",
                    "udp:" + port,
                    "--log",
                    log,
                    "--until-silent",
                    "3"));
    Thread.sleep(700);
    try (DatagramSocket hostile = new DatagramSocket()) {
      Random random = new Random(1);
      for (int i = 0; i < 2000; i++) {
        byte[] bytes = new byte[random.nextInt(300)];
        random.nextBytes(bytes);
        if (bytes.length > 0 && i % 3 == 0) {
          bytes[0] = (byte) (i % 2 == 0 ? 0xfd : 0xfe);
        }
        hostile.send(
            new DatagramPacket(bytes, bytes.length, InetAddress.getLoopbackAddress(), port));
      }
    }
    Cli rehearse =
        Cli.run(
            "rehearse",
            Cli.EXAMPLES.resolve("scenarios/slow-fade.properties"),
            "--craft",
            craft,
            "--to",
            "udp:127.0.0.1:" + port,
            "--speed",
            40,
            "--loss",
            10,
            "--duplicate",
            5,
            "--reorder",
            0.2,
            "--outage",
            "30:30",
            "--outage",
            "75:30");
    assertEquals(0, rehearse.status, rehearse.err);
    Cli run = watch.get();
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("this machine only"), run.out);
    assertTrue(run.out.contains(">>> WARNING"), run.out);
    assertTrue(run.out.contains("PAST THE KNEE: CLOSE the throttle"), run.out);
    assertTrue(run.out.contains("NO DATA"), run.out);
    List<String> alerts = alertsOfLog(log);
    assertFalse(alerts.isEmpty());
    assertEquals(alertsOfReplay(log, craft), alerts);
    Cli over = Cli.run("watch", "--craft", craft, "--from", "udp:" + port, "--log", log);
    assertEquals(3, over.status);
    assertTrue(over.err.contains("exists already"), over.err);
  }

  @Test
  void watchingALogGivesTheSameAsReplayingIt() throws IOException {
    Path craft = craft();
    Path log = folder.resolve("seen.csv");
    InputStream before = System.in;
    byte[] lines = Files.readAllBytes(Cli.EXAMPLES.resolve("flights/slow-fade.csv"));
    System.setIn(new ByteArrayInputStream(lines));
    try {
      Cli run = Cli.run("watch", "--craft", craft, "--from", "-", "--json", "--log", log);
      assertEquals(0, run.status, run.err);
      assertTrue(run.out.lines().allMatch(line -> line.startsWith("{\"time_s\":")), run.out);
      assertTrue(run.out.contains("\"alert\":\"WARNING\",\"raised\":true,\"why\":"), run.out);
      List<String> past = run.out.lines().filter(line -> line.contains("PAST_KNEE")).toList();
      assertFalse(past.isEmpty(), run.out);
      assertTrue(
          past.stream().allMatch(line -> line.matches(".*\"margin_pct\":(-|0\\.0).*")),
          "past the knee there is no margin, however far the demand falls: " + past);
    } finally {
      System.setIn(before);
    }
    assertEquals(
        Files.readAllLines(Cli.EXAMPLES.resolve("flights/slow-fade.csv")).size(),
        Files.readAllLines(log).size());
    assertEquals(alertsOfReplay(log, craft), alertsOfLog(log));
    String estimate = Files.readAllLines(log).get(3000).split(",", -1)[6];
    Path estimates = folder.resolve("e.csv");
    Cli.run("replay", log, "--craft", craft, "--estimates", estimates);
    String replayed = Files.readAllLines(estimates).get(3000);
    assertTrue(replayed.contains("," + estimate.substring(0, estimate.length() - 1)), replayed);
  }

  @Test
  void aSourceThatCannotBeOpenedGivesOneLine() throws IOException {
    Path craft = craft();
    try (DatagramSocket taken = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
      Cli port = Cli.run("watch", "--craft", craft, "--from", "udp:" + taken.getLocalPort());
      assertEquals(3, port.status, port.err);
      assertEquals(1, port.err.lines().count(), port.err);
      assertTrue(port.err.contains("the port is in use"), port.err);
    }
    Cli device = Cli.run("watch", "--craft", craft, "--from", "serial:/dev/no-such-tty:57600");
    assertEquals(3, device.status, device.err);
    assertEquals(1, device.err.lines().count(), device.err);
    assertEquals(2, Cli.run("watch", "--craft", craft, "--from", "carrier:pigeon").status);
    assertEquals(
        2, Cli.run("watch", "--craft", craft, "--from", "udp:1", "--reply", "nowhere").status);
  }

  @Test
  void anAddressANumberOrALogThatCannotBeIsSaid() throws IOException {
    Path craft = craft();
    Map<String, Integer> wrong =
        Map.of(
            "--reply no-such-host.invalid:1=no such host is known here", 3,
            "--page no-such-host.invalid:1=no such host is known here", 3,
            "--reply 127.0.0.1:70000=--reply must be HOST:PORT, and a port 0 to 65535", 2,
            "--page 70000=--page must be PORT or ADDRESS:PORT", 2,
            "--until-silent -1=--until-silent must be > 0", 2,
            "--log /no-such-folder/f.csv=there is no folder /no-such-folder: make it first", 2);
    wrong.forEach(
        (text, status) -> {
          String[] parts = text.split("[ =]", 3);
          Cli run = Cli.run("watch", "--craft", craft, "--from", "udp:0", parts[0], parts[1]);
          assertEquals(status, run.status, run.err);
          assertTrue(run.err.contains(parts[2]), run.err);
          assertTrue(status == 2 || run.err.lines().count() == 1, run.err);
        });
    for (String text : List.of("--loss 101", "--duplicate -1", "--reorder -1", "--speed -1")) {
      String[] parts = text.split(" ", -1);
      Cli run =
          Cli.run(
              "rehearse",
              Cli.EXAMPLES.resolve("scenarios/calm-hover.properties"),
              "--craft",
              craft,
              "--to",
              "udp:127.0.0.1:1",
              parts[0],
              parts[1]);
      assertEquals(2, run.status, run.err);
      assertTrue(run.err.startsWith(parts[0] + " must be "), run.err);
    }
  }

  /** Age and state without a link: a feed with the test's own clock. */
  @Test
  void aSecondWithoutReadingsIsNoData() throws IOException {
    LiveFeed feed =
        new LiveFeed(
            org.solarmargin.core.profile.CraftProfile.parse(
                "craft", Files.readString(craft(), StandardCharsets.UTF_8)));
    double local = 100;
    for (String line : Files.readAllLines(Cli.EXAMPLES.resolve("flights/cloud-passage.csv"))) {
      if (!line.startsWith("time_s") && local < 110) {
        String[] f = line.split(",", -1);
        local = 100 + Double.parseDouble(f[0]);
        feed.take(
            new org.solarmargin.cli.mavlink.Row(
                Math.round(Double.parseDouble(f[0]) * 1e9),
                Double.parseDouble(f[1]),
                Double.parseDouble(f[2]),
                Double.parseDouble(f[3]),
                Double.NaN),
            local);
      }
    }
    assertFalse(feed.stale(local));
    assertEquals("SHARP", Figures.of(feed, 0.5, 1.6, local).state());
    List<LiveFeed.Alert> alerts = new ArrayList<>();
    for (int i = 1; i <= 12; i++) {
      feed.advance(local + 0.25 * i);
      alerts.addAll(feed.alerts());
    }
    Figures after = Figures.of(feed, 0.5, 1.6, local + 1.01);
    assertEquals("NO_DATA", after.state());
    assertTrue(Double.isNaN(after.availableWatts()), "never the last good number");
    assertTrue(
        alerts.stream().anyMatch(a -> a.raised() && a.reason().name().contains("DATA")),
        alerts.toString());
  }
}
