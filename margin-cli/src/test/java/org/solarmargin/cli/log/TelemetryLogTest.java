package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.dronefleet.mavlink.MavlinkConnection;
import io.dronefleet.mavlink.common.BatteryStatus;
import io.dronefleet.mavlink.common.ServoOutputRaw;
import io.dronefleet.mavlink.common.SysStatus;
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
import java.util.function.LongUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.Node;
import org.solarmargin.cli.mavlink.MessageRows;
import org.solarmargin.core.profile.LogSources;

/** Recorded telemetry of both versions is replayed as the recorded flight. */
class TelemetryLogTest {

  private static final long START = 1_782_000_000_000_000L;

  /** Writes the flight of {@link #flight} with npm's node-mavlink. */
  private static final String SCRIPT =
      """
      const { MavLinkProtocolV1, MavLinkProtocolV2, common } = require("node-mavlink");
      const fs = require("fs");
      const [log, out] = process.argv.slice(2);
      const parts = [];
      const codecs = [new MavLinkProtocolV1(1, 1), new MavLinkProtocolV2(1, 1)];
      let sequence = 0;
      const write = (micros, message, version) => {
        const stamp = Buffer.alloc(8);
        stamp.writeBigUInt64BE(1782000000000000n + BigInt(micros));
        parts.push(stamp, codecs[version].serialize(message, sequence++ & 255));
      };
      let row = 0;
      for (const line of fs.readFileSync(log, "utf8").split("\\n")) {
        const f = line.split(",");
        if (f.length < 4 || line.startsWith("time_s")) continue;
        const micros = Math.round(f[0] * 1e6);
        const servo = new common.ServoOutputRaw();
        servo.timeUsec = micros;
        servo.port = 0;
        servo.servo1Raw = servo.servo2Raw = servo.servo3Raw = servo.servo4Raw = Math.round(1000 + 1000 * f[3]);
        write(micros, servo, row % 2);
        const battery = new common.BatteryStatus();
        battery.voltages = [Math.round(1000 * f[1]), ...Array(9).fill(65535)];
        battery.currentBattery = Math.round(100 * f[2]);
        write(micros + 10, battery, 1 - row % 2);
        row++;
      }
      fs.writeFileSync(out, Buffer.concat(parts));
      """;

  @TempDir private Path folder;

  private final ByteArrayOutputStream packet = new ByteArrayOutputStream();
  private final MavlinkConnection codec =
      MavlinkConnection.create(new ByteArrayInputStream(new byte[0]), packet);
  private final ByteArrayOutputStream file = new ByteArrayOutputStream();
  private LongUnaryOperator recorder = micros -> START + micros;

  private void write(long micros, Object payload, int version) throws IOException {
    packet.reset();
    if (version == 1) {
      codec.send1(1, 1, payload);
    } else {
      codec.send2(1, 1, payload);
    }
    file.writeBytes(ByteBuffer.allocate(8).putLong(recorder.applyAsLong(micros)).array());
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
    assertTrue(run.out.contains("from BATTERY_STATUS"), run.out);
    byte[] whole = file.toByteArray();
    Path cut = folder.resolve("cut.tlog");
    Files.write(cut, Arrays.copyOf(whole, whole.length / 2 + 3));
    Cli half = Cli.run("replay", cut, "--craft", Cli.STILT);
    assertEquals(0, half.status, half.err);
    assertTrue(
        half.out.contains("A WARNING was active for 0:05.0 of the flight; the least margin"),
        half.out);
  }

  /** The battery's stamps end in 10 us. No checksum protects a stamp of the recorder. */
  @ParameterizedTest
  @CsvSource({"30000010, 3600", "30000010, -3600", "30000000, 3600", "30000000, -3600"})
  void aDamagedStampOfTheRecorderCostsTwoLinesAtMost(long at, long seconds) throws IOException {
    recorder = micros -> START + micros + (micros == at ? 1_000_000 * seconds : 0);
    assertTheFlightIsReplayed();
  }

  @ParameterizedTest
  @ValueSource(longs = {3600, -3600})
  void aRecordersClockThatIsSetDoesNotMatter(long seconds) throws IOException {
    recorder = micros -> START + micros + (micros >= 30_000_000 ? 1_000_000 * seconds : 0);
    assertTheFlightIsReplayed();
  }

  private void assertTheFlightIsReplayed() throws IOException {
    Cli run = Cli.run("replay", flight(), "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("LOST LIFT: past the knee at 1:37"), run.out);
    String refused = run.out.lines().filter(l -> l.startsWith("Refused")).findFirst().orElse("");
    assertTrue(refused.matches("Refused +(none|[12]: .*)"), refused);
  }

  @Test
  void recordingsOfAnIndependentCodecAreReplayedIdentically() throws Exception {
    Node.assumeThere("node-mavlink");
    Path theirs = folder.resolve("theirs.tlog");
    Node.run(SCRIPT, Cli.EXAMPLES.resolve("flights/slow-fade.csv"), theirs);
    Cli run = Cli.run("replay", theirs, "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    Cli ours = Cli.run("replay", flight(), "--craft", Cli.STILT);
    assertEquals(
        ours.out.lines().skip(1).toList(), run.out.lines().skip(1).toList()); // 0: the file's name
  }

  @Test
  void theProfileNamesTheMessagesAndTheMotors() throws IOException {
    Path other = folder.resolve("other.tlog");
    for (int i = 0; i < 500; i++) {
      long micros = 20_000L * i;
      write(
          micros,
          ServoOutputRaw.builder()
              .timeUsec(micros)
              .servo1Raw(2000)
              .servo5Raw(1400)
              .servo6Raw(1500)
              .servo7Raw(1500)
              .servo8Raw(1600)
              .build(),
          2);
      write(micros + 10, SysStatus.builder().voltageBattery(29_000).currentBattery(280).build(), 2);
    }
    Files.write(other, file.toByteArray());
    Path profile = folder.resolve("craft.properties");
    Files.writeString(
        profile,
        Files.readString(Cli.STILT)
            + "\nlink.bus_message = SYS_STATUS\nlink.first_motor_output = 5\n");
    Path estimates = folder.resolve("estimates.csv");
    Cli run = Cli.run("replay", other, "--craft", profile, "--estimates", estimates);
    assertTrue(run.out.contains("bus_v and bus_a are from SYS_STATUS"), run.out + run.err);
    String words = run.out.replaceAll("\\s+", " ");
    assertTrue(words.contains("mean of outputs 5 to 8 in SERVO_OUTPUT_RAW"), words);
    assertTrue(words.contains("500 samples") || words.contains("1000 samples"), words);

    Files.writeString(profile, Files.readString(Cli.STILT) + "\nlink.bus_message = BATTERY\n");
    Cli refused = Cli.run("replay", other, "--craft", profile);
    assertEquals(3, refused.status);
    assertTrue(
        refused.err.contains("link.bus_message must be one of BATTERY_STATUS, SYS_STATUS"),
        refused.err);
  }

  /** Rows of one servo output each 20 ms; a byte too many and a byte too few among them. */
  @Test
  void strayBytesCostTheNextPacketAtMost() throws IOException {
    List<byte[]> stamped = new ArrayList<>();
    for (int i = 0; i < 200; i++) {
      file.reset();
      write(20_000L * i, ServoOutputRaw.builder().timeUsec(20_000L * i).servo1Raw(1500).build(), 2);
      stamped.add(file.toByteArray());
    }
    file.reset();
    for (int i = 0; i < 200; i++) {
      byte[] one = stamped.get(i);
      int from = i == 120 ? 1 : 0;
      file.write(one, from, one.length - from);
      if (i == 50) {
        file.writeBytes(new byte[] {1, 2, (byte) 0xfd});
      }
    }
    Path log = Files.write(folder.resolve("stray.tlog"), file.toByteArray());
    int rows = -1;
    try (TelemetryLog lines = new TelemetryLog(log, new MessageRows(LogSources.DEFAULT, 4))) {
      for (String line = lines.next(); line != null; line = lines.next()) {
        rows++;
      }
    }
    assertTrue(rows >= 197, "rows of 200: " + rows);
  }
}
