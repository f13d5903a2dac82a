package org.solarmargin.examples;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.DatagramSocket;
import java.net.InetAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Main;

class CapTheThrottleTest {

  @TempDir private Path folder;

  @Test
  void capsTheThrottleWhileDataArriveAndNotAfterwards() throws Exception {
    // the time model is stated: the live search would take longer than this flight at 40 times
    // speed
    String craft =
        Files.writeString(
                folder.resolve("craft.properties"),
                Files.readString(Path.of("stilt/stilt.properties"))
                    + "\nsensor.current_step_a = 0.01\n")
            .toString();
    int port;
    try (DatagramSocket free = new DatagramSocket(0, InetAddress.getLoopbackAddress())) {
      port = free.getLocalPort();
    }
    PrintStream usual = System.out;
    ByteArrayOutputStream output = new ByteArrayOutputStream();
    Thread program =
        new Thread(
            () -> {
              try {
                CapTheThrottle.main(new String[] {craft, "udp:" + port});
              } catch (InterruptedException e) {
                // requested to end
              } catch (Exception e) {
                throw new IllegalStateException(e);
              }
            });
    try {
      System.setOut(new PrintStream(output, true, StandardCharsets.UTF_8));
      program.start();
      Thread.sleep(500);
      String[] rehearsal = {
        "rehearse",
        "scenarios/slow-fade.properties",
        "--craft",
        craft,
        "--to",
        "udp:127.0.0.1:" + port,
        "--speed",
        "40"
      };
      PrintWriter nowhere = new PrintWriter(new StringWriter());
      assertEquals(0, Main.run(rehearsal, nowhere, nowhere));
      Thread.sleep(1500);
    } finally {
      program.interrupt();
      program.join();
      System.setOut(usual);
    }
    List<String> lines = output.toString(StandardCharsets.UTF_8).lines().toList();
    assertTrue(lines.contains("WARNING raised"), lines.toString());
    List<String> caps = lines.stream().filter(l -> l.contains("at most")).toList();
    assertTrue(caps.get(0).endsWith("1.00"), "no cap before the margin is known");
    double least =
        caps.stream()
            .mapToDouble(l -> Double.parseDouble(l.substring(l.lastIndexOf(' '))))
            .min()
            .orElseThrow();
    assertTrue(least > 0.3 && least < 0.6, "the ceiling falls as the light fades: " + caps);
    assertTrue(caps.get(caps.size() - 1).endsWith("1.00"), "no cap without data: " + caps);
  }

  @Test
  void isUnderFortyLines() throws Exception {
    Path source = Path.of("src/main/java/org/solarmargin/examples/CapTheThrottle.java");
    long lines =
        Files.readAllLines(source).stream()
            .map(String::strip)
            .filter(l -> !l.isEmpty() && !l.startsWith("*") && !l.startsWith("/**"))
            .count();
    assertTrue(lines < 40, lines + " lines");
  }
}
