package org.solarmargin.cli.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.FlightLog;

/** A log whose numbers fit another unit is refused with the option that states it. */
class UnitAdviceTest {

  private static final List<String> NAMES = List.of("time_s", "bus_v", "bus_a", "throttle");

  @TempDir private Path folder;

  /** A demo flight with one column renamed and multiplied. */
  private Path log(String column, String name, String factor) throws IOException {
    int place = NAMES.indexOf(column);
    String rows =
        FlightLog.samples(Cli.EXAMPLES.resolve("flights/gusty-hover.csv")).stream()
            .map(sample -> sample.line().split(",", -1))
            .map(
                fields -> {
                  BigDecimal value = new BigDecimal(fields[place]).multiply(new BigDecimal(factor));
                  fields[place] = value.toPlainString();
                  return String.join(",", fields);
                })
            .collect(Collectors.joining("\n"));
    return Files.writeString(
        folder.resolve("log.csv"), FlightLog.HEADER.replace(column, name) + "\n" + rows + "\n");
  }

  private Cli replay(Path log, Object... more) throws IOException {
    Object[] args = {"replay", log, "--craft", Cli.timed(folder)};
    Object[] all = java.util.Arrays.copyOf(args, args.length + more.length);
    System.arraycopy(more, 0, all, args.length, more.length);
    return Cli.run(all);
  }

  @ParameterizedTest
  @CsvSource({
    "time_s, time_s, 1e3, ms, the times are 20 apart",
    "time_s, timestamp, 1e6, us, the times are 20000 apart",
    "time_s, t, 1e9, ns, the times are 20000000 apart",
    "bus_a, bus_a, 1e3, mA, the current in flight is 2",
    "bus_a, Bus Current, 1e3, mA, the current in flight is 2",
    "bus_a, bus_a, 1e2, cA, the current in flight is 2",
    "bus_v, bus_v, 1e3, mV, the voltage is 29",
    "bus_v, volts, 1e2, cV, the voltage is 29"
  })
  void theUnitThatFitsIsProposedAndWorks(
      String column, String name, String factor, String unit, String observed) throws IOException {
    Path log = log(column, name, factor);
    String mapping = column + "=" + name + ":" + unit;
    Cli refused = replay(log);
    assertEquals(3, refused.status, refused.out + refused.err);
    assertEquals(1, refused.err.lines().count(), refused.err);
    assertTrue(refused.err.contains(observed), refused.err);
    String typed = "add --column " + (name.contains(" ") ? '"' + mapping + '"' : mapping);
    assertTrue(refused.err.contains(": if the unit is " + unit + ", " + typed), refused.err);
    assertEquals(0, replay(log, "--column", mapping).status);
  }

  /** A factor that no unit explains, rows a second apart, and a unit that is stated. */
  @ParameterizedTest
  @CsvSource({
    "time_s, time_s, 4.5e4",
    "time_s, time_s, 50",
    "bus_a, bus_a, 15",
    "bus_v, bus_v, 5",
    "bus_v, bus_v (V), 1e3"
  })
  void nothingIsProposedWithoutReason(String column, String name, String factor)
      throws IOException {
    Cli refused = replay(log(column, name, factor));
    assertEquals(3, refused.status, refused.out + refused.err);
    assertFalse(refused.err.contains("if the unit is"), refused.err);
  }

  @Test
  void aWorkingLogGetsNoAdvice() throws IOException {
    Cli run = replay(log("bus_a", "bus_a", "1"));
    assertEquals(0, run.status, run.err);
    assertFalse(run.out.contains("if the unit is"), run.out);
  }
}
