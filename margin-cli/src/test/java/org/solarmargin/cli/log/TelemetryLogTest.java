package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.dronefleet.mavlink.MavlinkConnection;
import io.dronefleet.mavlink.common.BatteryStatus;
import io.dronefleet.mavlink.common.ServoOutputRaw;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;

/** Recorded telemetry of both versions is replayed as the flight that it tells of. */
class TelemetryLogTest {

  private static final long START = 1_782_000_000_000_000L;

  @TempDir private Path folder;

  private final ByteArrayOutputStream packet = new ByteArrayOutputStream();
  private final MavlinkConnection codec =
      MavlinkConnection.create(new ByteArrayInputStream(new byte[0]), packet);
  private final ByteArrayOutputStream file = new ByteArrayOutputStream();

  private void write(long micros, Object payload, int version) throws IOException {
    packet.reset();
    if (version == 1) {
      codec.send1(1, 1, payload);
    } else {
      codec.send2(1, 1, payload);
    }
    file.writeBytes(ByteBuffer.allocate(8).putLong(START + micros).array());
    file.writeBytes(packet.toByteArray());
  }

  private Path flight() throws IOException {
    int row = 0;
    for (String line : Files.readAllLines(Cli.EXAMPLES.resolve("flights/slow-fade.csv"))) {
      if (line.startsWith("time_s")) {
        continue;
      }
      String[] f = line.split(",", -1);
      long micros = Math.round(Double.parseDouble(f[0]) * 1e6);
      int pulse = (int) Math.round(1000 + 1000 * Double.parseDouble(f[3]));
      write(
          micros,
          ServoOutputRaw.builder()
              .timeUsec(micros)
              .servo1Raw(pulse)
              .servo2Raw(pulse)
              .servo3Raw(pulse)
              .servo4Raw(pulse)
              .build(),
          1 + row % 2);
      List<Integer> cells = new ArrayList<>(Collections.nCopies(10, 65_535));
      cells.set(0, (int) Math.round(1000 * Double.parseDouble(f[1])));
      write(
          micros + 10,
          BatteryStatus.builder()
              .voltages(cells)
              .currentBattery((int) Math.round(100 * Double.parseDouble(f[2])))
              .build(),
          2 - row % 2);
      row++;
    }
    return Files.write(folder.resolve("flight.tlog"), file.toByteArray());
  }

  @Test
  void aRecordedStreamIsReplayed() throws IOException {
    Cli run = Cli.run("replay", flight(), "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("LOST LIFT: past the knee at 1:37"), run.out);
    assertTrue(run.out.contains("of BATTERY_STATUS"), run.out);
    byte[] whole = file.toByteArray();
    Path cut = folder.resolve("cut.tlog");
    Files.write(cut, Arrays.copyOf(whole, whole.length / 2 + 3));
    Cli half = Cli.run("replay", cut, "--craft", Cli.STILT);
    assertEquals(0, half.status, half.err);
    assertTrue(half.out.contains("Power to spare"), half.out);
  }
}
