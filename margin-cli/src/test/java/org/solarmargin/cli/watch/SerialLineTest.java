package org.solarmargin.cli.watch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.dronefleet.mavlink.MavlinkConnection;
import io.dronefleet.mavlink.common.BatteryStatus;
import io.dronefleet.mavlink.common.ServoOutputRaw;
import java.io.ByteArrayInputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;

/** Telemetry over a serial line, which a pair of pseudo-terminals stands for. */
class SerialLineTest {

  private static final Path SOCAT = Path.of("/usr/bin/socat");

  @TempDir private Path folder;

  @Test
  void packetsOverASerialLineAreWatched() throws Exception {
    Assumptions.assumeTrue(Files.isExecutable(SOCAT), SOCAT + " is not installed");
    Path near = folder.resolve("near");
    Path far = folder.resolve("far");
    Process socat =
        new ProcessBuilder(
                SOCAT.toString(), "pty,raw,echo=0,link=" + near, "pty,raw,echo=0,link=" + far)
            .start();
    try {
      for (int i = 0; i < 100 && !(Files.exists(near) && Files.exists(far)); i++) {
        Thread.sleep(20);
      }
      Path log = folder.resolve("flight.csv");
      CompletableFuture<Cli> watch =
          CompletableFuture.supplyAsync(
              () ->
                  Cli.run(
                      "watch",
                      "--craft",
                      Cli.STILT,
                      "--from",
                      "serial:" + real(far) + ":57600",
                      "--log",
                      log,
                      "--until-silent",
                      "3"));
      Thread.sleep(1000);
      try (OutputStream line = Files.newOutputStream(near)) {
        MavlinkConnection link =
            MavlinkConnection.create(new ByteArrayInputStream(new byte[0]), line);
        List<Integer> cells = new ArrayList<>(Collections.nCopies(10, 65_535));
        for (int i = 0; i < 50; i++) {
          cells.set(0, 29_000 + 10 * (i % 3));
          link.send2(1, 1, ServoOutputRaw.builder().timeUsec(40_000L * i).servo1Raw(1500).build());
          link.send1(1, 1, BatteryStatus.builder().voltages(cells).currentBattery(285).build());
          line.flush();
          Thread.sleep(10);
        }
        Cli run = watch.get();
        assertEquals(0, run.status, run.err);
        assertTrue(run.out.contains("at 57600 baud"), run.out);
      }
      long readings = Files.readAllLines(log).stream().filter(row -> row.contains(",29.0")).count();
      assertEquals(50, readings);
    } finally {
      socat.destroy();
    }
  }

  private static Path real(Path link) {
    try {
      return link.toRealPath();
    } catch (java.io.IOException e) {
      throw new java.io.UncheckedIOException(e);
    }
  }
}
