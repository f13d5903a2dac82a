package org.solarmargin.cli.live;

import io.dronefleet.mavlink.common.BatteryStatus;
import io.dronefleet.mavlink.common.ServoOutputRaw;
import java.io.IOException;
import java.nio.file.Files;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.mavlink.PacketWriter;

/** The demo flight gusty-hover, repeated, as packets: for each row the outputs, then the bus. */
public final class FlightPackets {

  private static final double STEP = 0.02;

  private final List<double[]> rows = new ArrayList<>();
  private final List<Integer> cells = new ArrayList<>(Collections.nCopies(10, 65_535));
  private final PacketWriter packets = new PacketWriter(1, 1, null);

  /** Reads the demo flight. */
  public FlightPackets() throws IOException {
    for (String line : Files.readAllLines(Cli.EXAMPLES.resolve("flights/gusty-hover.csv"))) {
      if (line.matches("[0-9].*")) {
        String[] f = line.split(",", -1);
        rows.add(
            new double[] {
              Double.parseDouble(f[1]), Double.parseDouble(f[2]), Double.parseDouble(f[3])
            });
      }
    }
  }

  private double[] row(long number) {
    // forwards and backwards, so that there is no jump where the flight repeats
    int there = (int) (number % (2L * rows.size()));
    return rows.get(there < rows.size() ? there : 2 * rows.size() - 1 - there);
  }

  /** Time of a row, s. */
  public static double seconds(long number) {
    return number * STEP;
  }

  /** The throttle of a row. */
  public byte[] outputs(long number, long micros) {
    int pulse = (int) Math.round(1000 + 1000 * row(number)[2]);
    return packets.packet(
        ServoOutputRaw.builder()
            .timeUsec(micros & 0xffff_ffffL)
            .servo1Raw(pulse)
            .servo2Raw(pulse)
            .servo3Raw(pulse)
            .servo4Raw(pulse)
            .build());
  }

  /** The readings of a row. */
  public byte[] bus(long number) {
    double[] row = row(number);
    cells.set(0, (int) Math.round(1000 * row[0]));
    return packets.packet(
        BatteryStatus.builder()
            .voltages(cells)
            .currentBattery((int) Math.round(100 * row[1]))
            .build());
  }
}
