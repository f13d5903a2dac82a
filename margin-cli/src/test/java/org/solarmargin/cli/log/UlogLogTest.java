package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.Node;
import org.solarmargin.cli.file.InputFault;

/** ULog files are read as by an independent reader, and replayed like the same flight as CSV. */
class UlogLogTest {

  private static final String SCRIPT =
      """
      const { ULog, MessageType } = require("@foxglove/ulog");
      const { FileReader } = require("@foxglove/ulog/node");
      (async () => {
        const log = new ULog(new FileReader(process.argv[2]));
        await log.open();
        for await (const m of log.readMessages()) {
          if (m.type !== MessageType.Data) continue;
          const v = m.value;
          if (v.voltage_v !== undefined) console.log(`${v.timestamp} ${v.voltage_v} ${v.current_a}`);
        }
      })();
      """;

  @TempDir private Path folder;

  private Path demo(UlogWriter to) throws IOException {
    for (String line : Files.readAllLines(Cli.EXAMPLES.resolve("flights/cloud-passage.csv"))) {
      if (!line.startsWith("time_s")) {
        String[] f = line.split(",", -1);
        long micros = Math.round(Double.parseDouble(f[0]) * 1e6) + 1_000_000;
        to.motors(micros, Double.parseDouble(f[3]));
        to.battery(micros, Double.parseDouble(f[1]), Double.parseDouble(f[2]));
      }
    }
    return Files.write(folder.resolve("flight.ulg"), to.bytes());
  }

  private static Map<Long, String> ours(Path log) throws IOException {
    Map<Long, String> rows = new TreeMap<>();
    try (UlogLog lines = new UlogLog(log, new ColumnMap(List.of()))) {
      assertEquals("time_s,bus_v,bus_a,throttle", lines.next());
      for (String line = lines.next(); line != null; line = lines.next()) {
        String[] f = line.split(",", -1);
        long micros = Math.round(Double.parseDouble(f[0]) * 1e6);
        rows.put(micros, (float) Double.parseDouble(f[1]) + " " + (float) Double.parseDouble(f[2]));
      }
    }
    return rows;
  }

  @Test
  void anIndependentReaderFindsTheSame() throws Exception {
    Node.assumeThere("@foxglove/ulog");
    Path log = demo(new UlogWriter());
    Map<Long, String> theirs = new TreeMap<>();
    for (String line : Node.run(SCRIPT, log)) {
      String[] f = line.split(" ", -1);
      theirs.put(
          Long.parseLong(f[0]), (float) Double.parseDouble(f[1]) + " " + Float.parseFloat(f[2]));
    }
    assertEquals(theirs, ours(log));
    assertTrue(theirs.size() > 4000, "messages: " + theirs.size());
  }

  @Test
  void aReplayReportsItsSourcesAndAgreesWithTheCsv() throws IOException {
    Cli run = Cli.run("replay", demo(new UlogWriter()), "--craft", Cli.STILT);
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("throttle is actuator_motors.control[0-11]"), run.out);
    Cli csv =
        Cli.run("replay", Cli.EXAMPLES.resolve("flights/cloud-passage.csv"), "--craft", Cli.STILT);
    assertEquals(headline(csv), headline(run));
  }

  /** The motors' message of an instant comes before the battery's; both belong to one line. */
  @ParameterizedTest
  @CsvSource({"3600, 1", "-3600, 1", "5, 1", "-5, 1000", "-3, 1000", "3600, 1000"})
  void messagesAreJoinedAfterTheClockHasJumped(long seconds, int instants) throws IOException {
    UlogWriter to = new UlogWriter();
    for (int i = 0; i < 1000; i++) {
      boolean off = i >= 500 && i < 500 + instants;
      long micros = 7_200_000_000L + 20_000L * i + (off ? 1_000_000 * seconds : 0);
      to.motors(micros, 0.5);
      to.battery(micros, 28 + i * 1e-3, 3);
    }
    List<String> lines = lines(to);
    int first = lines.size() - 1000;
    assertEquals("time_s,bus_v,bus_a,throttle", lines.get(first - 1));
    for (int i = 0; i < 1000; i++) {
      String[] f = lines.get(first + i).split(",", -1);
      assertEquals(28 + i * 1e-3, Double.parseDouble(f[1]), 1e-5, "in the order of the file");
      assertEquals(0.5, Double.parseDouble(f[3]), 1e-6);
    }
  }

  private static String headline(Cli run) {
    return run.out.lines().skip(2).findFirst().orElseThrow();
  }

  @Test
  void aFileCutShortEndsWithItsLastWholeMessage() throws IOException {
    byte[] whole = Files.readAllBytes(demo(new UlogWriter()));
    Path cut = folder.resolve("cut.ulg");
    Files.write(cut, java.util.Arrays.copyOf(whole, whole.length / 2 + 1));
    int rows = ours(cut).size();
    assertTrue(rows > 2000 && rows < 2500, "rows: " + rows);
  }

  @Test
  void otherFieldsCanBeNamedAndMissingOnesAreReported() throws IOException {
    Path log = demo(new UlogWriter());
    List<String> mapped =
        new ArrayList<>(
            List.of("throttle=actuator_motors.control[1]", "bus_v=battery_status.volts"));
    InputFault fault =
        assertThrows(InputFault.class, () -> new LogReader(log, new ColumnMap(mapped)));
    assertTrue(fault.getMessage().contains("no source for bus_v"), fault.getMessage());
    mapped.set(1, "bus_v=battery_status.voltage_v:V");
    try (LogReader reader = new LogReader(log, new ColumnMap(mapped))) {
      assertTrue(reader.next());
      assertTrue(reader.notes().contains("throttle is actuator_motors.control[1]"));
    }
  }

  private List<String> lines(UlogWriter written, String... mapped) throws IOException {
    Path log = Files.write(folder.resolve("own.ulg"), written.bytes());
    List<String> lines = new ArrayList<>();
    try (UlogLog log1 = new UlogLog(log, new ColumnMap(List.of(mapped)))) {
      lines.addAll(log1.notes());
      for (String line = log1.next(); line != null; line = log1.next()) {
        lines.add(line);
      }
    }
    return lines;
  }

  /** Pulses of 1000 to 2000 us; the mean of those that are numbers; nothing where none is. */
  @Test
  void outputsInMicrosecondsAreAThrottle() throws IOException {
    UlogWriter written = new UlogWriter();
    written.define(9, "actuator_outputs", 0, "uint64_t timestamp;float[4] output;");
    written.battery(1_000_000, 29.5, 2.75);
    written.floats(9, 1_000_000, 1400, 1600, 1500, Float.NaN);
    written.floats(9, 1_020_000, 900, 900, 900, 900);
    written.floats(9, 1_040_000, Float.NaN, Float.NaN, Float.NaN, Float.NaN);
    written.floats(9, 1_060_000);
    assertEquals(
        List.of(
            "bus_v is battery_status.voltage_v",
            "bus_a is battery_status.current_a",
            "throttle is actuator_outputs.output[0-3] in us",
            "time_s,bus_v,bus_a,throttle",
            "1.000000,29.5,2.75,0.5",
            "1.020000,,,0.0"),
        lines(written));
  }

  /** A second battery monitor, and a cell's temperature; what is named is taken as it stands. */
  @Test
  void anotherInstanceIsNamedByItsNumber() throws IOException {
    UlogWriter written = new UlogWriter();
    written.define(9, "power", 1, "uint64_t timestamp;float volts;float amps;float celsius;");
    written.motors(2_000_000, 0.5);
    written.floats(9, 2_000_000, 28.5f, 3.25f, 41.5f);
    List<String> lines =
        lines(written, "bus_v=power#1.volts", "bus_a=power#1.amps", "cell_c=power#1.celsius");
    assertEquals("bus_v is power#1.volts", lines.get(0));
    assertEquals("time_s,power#1.volts,power#1.amps,throttle,power#1.celsius", lines.get(4));
    assertTrue(lines.get(5).startsWith("2.000000,28.5,3.25,0.5"), lines.get(5));
    assertTrue(lines.get(5).endsWith(",41.5"), lines.get(5));
    InputFault fault =
        assertThrows(
            InputFault.class, () -> lines(written, "bus_v=power.volts", "bus_a=power#1.amps"));
    assertTrue(fault.getMessage().contains("no source for bus_v"), fault.getMessage());
    assertTrue(
        fault.getMessage().contains("it has actuator_motors#0, power#1"), fault.getMessage());
  }
}
