package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.dronefleet.mavlink.common.BatteryStatus;
import io.dronefleet.mavlink.common.ServoOutputRaw;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.mavlink.PacketWriter;

/** Telemetry over a serial line, represented by a pair of pseudo-terminals. */
class SerialLineTest {

  @TempDir private Path folder;

  private final PacketWriter packets = new PacketWriter(1, 1, null);

  private CompletableFuture<Cli> watch(Path device, Path log) throws InterruptedException {
    CompletableFuture<Cli> watch =
        CompletableFuture.supplyAsync(
            () ->
                Cli.run(
                    "watch",
                    "--craft",
                    Cli.STILT,
                    "--from",
                    "serial:" + device + ":57600",
                    "--log",
                    log,
                    "--until-silent",
                    "4"));
    Thread.sleep(1000);
    return watch;
  }

  private void send(Path near, int from, int to) throws IOException, InterruptedException {
    List<Integer> cells = new ArrayList<>(Collections.nCopies(10, 65_535));
    try (OutputStream line = Files.newOutputStream(near)) {
      for (int i = from; i < to; i++) {
        cells.set(0, 29_000 + 10 * (i % 3));
        line.write(
            packets.packet(ServoOutputRaw.builder().timeUsec(40_000L * i).servo1Raw(1500).build()));
        line.write(
            packets.packet(BatteryStatus.builder().voltages(cells).currentBattery(285).build()));
        line.flush();
        Thread.sleep(10);
      }
      Thread.sleep(200);
    }
  }

  private static long readings(Path log) throws IOException {
    return Files.readAllLines(log).stream().filter(row -> row.contains(",29.0")).count();
  }

  @Test
  void packetsOverASerialLineAreWatched() throws Exception {
    Path log = folder.resolve("flight.csv");
    try (Pty pty = new Pty(folder)) {
      CompletableFuture<Cli> watch = watch(pty.far, log);
      send(pty.near, 0, 50);
      Cli taken = Cli.run("watch", "--craft", Cli.STILT, "--from", "serial:" + pty.far + ":57600");
      assertEquals(3, taken.status, taken.err);
      assertEquals(1, taken.err.lines().count(), taken.err);
      assertTrue(taken.err.contains("another program has it open"), taken.err);
      Cli run = watch.get();
      assertEquals(0, run.status, run.err);
      assertTrue(run.out.contains("at 57600 baud"), run.out);
    }
    assertEquals(50, readings(log));
  }

  @Test
  void aDeviceThatDisappearsIsReopened() throws Exception {
    Path log = folder.resolve("flight.csv");
    CompletableFuture<Cli> watch;
    try (Pty pty = new Pty(folder)) {
      watch = watch(pty.far, log);
      send(pty.near, 0, 50);
    }
    Files.deleteIfExists(folder.resolve("near"));
    Files.deleteIfExists(folder.resolve("far"));
    Thread.sleep(700);
    try (Pty pty = new Pty(folder)) {
      Thread.sleep(1500);
      send(pty.near, 100, 150);
      Cli run = watch.get();
      assertEquals(0, run.status, run.err);
      assertTrue(run.err.contains("the device has disappeared"), run.err);
      assertTrue(run.err.contains("resolved: the device has disappeared"), run.err);
    }
    assertEquals(100, readings(log));
  }
}
