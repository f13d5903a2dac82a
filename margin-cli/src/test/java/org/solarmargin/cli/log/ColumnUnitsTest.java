package org.solarmargin.cli.log;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.file.InputFault;

/** Units in brackets behind a header's names, as loggers spell them. */
class ColumnUnitsTest {

  @TempDir private Path folder;

  private double read(String column, String unit, String value) throws IOException {
    StringBuilder header = new StringBuilder();
    StringBuilder row = new StringBuilder();
    for (Column one : Column.values()) {
      boolean asked = one.word().equals(column);
      header.append(one.word()).append(asked ? " [" + unit + "]" : "").append(',');
      row.append(asked ? value : one == Column.EVENT ? "" : "0.5").append(',');
    }
    Path log = folder.resolve("log.csv");
    Files.writeString(log, header + "\n" + row + "\n");
    try (LogReader reader = new LogReader(log, new ColumnMap(List.of()))) {
      assertEquals(true, reader.next());
      for (Column one : Column.values()) {
        if (one.word().equals(column)) {
          return reader.value(one);
        }
      }
      throw new IllegalArgumentException(column);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "time_s, s, 1.5, 1.5",
    "time_s, sec, 1.5, 1.5",
    "time_s, Seconds, 1.5, 1.5",
    "time_s, ms, 1500, 1.5",
    "time_s, msec, 1500, 1.5",
    "time_s, milliseconds, 1500, 1.5",
    "time_s, us, 1500000, 1.5",
    "time_s, usec, 1500000, 1.5",
    "time_s, \u00b5s, 1500000, 1.5",
    "time_s, \u03bcs, 1500000, 1.5",
    "time_s, microseconds, 1500000, 1.5",
    "time_s, ns, 1500000000, 1.5",
    "bus_v, V, 29.5, 29.5",
    "bus_v, volts, 29.5, 29.5",
    "bus_v, Volt, 29.5, 29.5",
    "bus_v, mV, 29500, 29.5",
    "bus_v, cV, 2950, 29.5",
    "bus_a, A, 2.8, 2.8",
    "bus_a, amp, 2.8, 2.8",
    "bus_a, Amps, 2.8, 2.8",
    "bus_a, ampere, 2.8, 2.8",
    "bus_a, amperes, 2.8, 2.8",
    "bus_a, mA, 2800, 2.8",
    "bus_a, cA, 280, 2.8",
    "throttle, 1, 0.55, 0.55",
    "throttle, %, 55, 0.55",
    "throttle, percent, 55, 0.55",
    "throttle, pct, 55, 0.55",
    "throttle, permille, 550, 0.55",
    "throttle, \u2030, 550, 0.55",
    "throttle, us, 1550, 0.55",
    "cell_c, C, 41, 41",
    "cell_c, \u00b0C, 41, 41",
    "cell_c, degC, 41, 41",
    "cell_c, deg C, 41, 41",
    "cell_c, cC, 4100, 41",
    "cell_c, K, 314.15, 41",
    "height_m, m, 8, 8",
    "height_m, cm, 800, 8",
    "height_m, mm, 8000, 8"
  })
  void aValueIsBroughtToTheFormatsOwnUnit(String column, String unit, String value, double own)
      throws IOException {
    assertEquals(own, read(column, unit, value), 1e-9);
  }

  @ParameterizedTest
  @CsvSource({"time_s, h", "bus_v, A", "bus_a, V", "throttle, rpm", "cell_c, F", "height_m, ft"})
  void aUnitThatIsNotKnownIsSaid(String column, String unit) {
    InputFault fault = assertThrows(InputFault.class, () -> read(column, unit, "1"));
    String start =
        folder.resolve("log.csv")
            + " line 1: unknown unit of "
            + column
            + " ["
            + unit
            + "]: "
            + column
            + " must be in one of ";
    assertEquals(start, fault.getMessage().substring(0, start.length()));
  }

  @ParameterizedTest
  @ValueSource(strings = {"bus_v", "=Voltage", "bus_v=", "volts=Voltage", "bus_v=Voltage:ohm"})
  void aMappingOfAnotherFormIsWrongUsage(String mapping) {
    Path log = Cli.EXAMPLES.resolve("flights/gusty-hover.csv");
    Cli run = Cli.run("replay", log, "--craft", Cli.STILT, "--column", mapping);
    assertEquals(2, run.status);
    String line = run.err.lines().findFirst().orElseThrow();
    assertEquals("--column ", line.substring(0, 9));
    assertEquals(
        mapping.substring(mapping.indexOf(':') < 0 ? 0 : 6), line.replaceFirst(".*: ", ""));
  }

  /** Pulses of servos end at 2250 us, percents at 105, permille at 1050: common practice. */
  @ParameterizedTest
  @CsvSource({
    "0, 1, 1",
    "0, 1.05, 1",
    "-3, 50, 1",
    "0, 1.06, pct",
    "0, 105, pct",
    "0, 106, permille",
    "0, 1050, permille",
    "0, 1051, 1",
    "750, 2250, us",
    "749, 2250, 1",
    "750, 2251, 1",
    "900, 1000, us"
  })
  void theThrottlesUnitIsToldByItsRange(double least, double most, String unit) {
    assertEquals(unit, ThrottleScale.unit(least, most));
  }

  @Test
  void sourcesInLogsOfTopicsAreNamedByFieldAndPlace() {
    assertEquals("topic.field", UlogSource.parse("topic.field").words());
    assertEquals("topic.field", UlogSource.parse(" topic#0.field[0] ").words());
    assertEquals("topic#2.a.b[3]", UlogSource.parse("topic#2.a.b[3]").words());
    assertEquals("topic.field[0-11]", UlogSource.parse("topic.field[0-11]").words());
    for (String text : List.of("topic", "topic.", ".field", "topic.field[", "topic.field[1-]")) {
      assertEquals(null, UlogSource.parse(text), text);
    }
  }
}
