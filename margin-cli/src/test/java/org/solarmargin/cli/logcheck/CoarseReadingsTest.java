package org.solarmargin.cli.logcheck;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.FlightLog;
import org.solarmargin.cli.FlightLog.Sample;

class CoarseReadingsTest {

  @TempDir private Path folder;

  private static double rounded(double value, double step) {
    return step == 0 ? value : step * Math.rint(value / step);
  }

  @ParameterizedTest
  @CsvSource({
    "0, 0.5, ''",
    "0, 1, bus_a is rounded to 1.00 A",
    "0.2, 0, ''",
    "0.5, 0, bus_v is rounded to 0.500 V",
    "0.5, 1, bus_a is rounded to 1.00 A"
  })
  void coarseRoundingIsNamed(double volts, double amps, String words) throws IOException {
    Path log =
        FlightLog.write(
            folder.resolve("log.csv"),
            Cli.EXAMPLES.resolve("flights/gusty-hover.csv"),
            (i, s) ->
                new Sample(
                        s.seconds(),
                        rounded(s.volts(), volts),
                        rounded(s.amps(), amps),
                        s.throttle())
                    .line());
    Cli run = Cli.run("replay", log, "--craft", Cli.timed(folder));
    assertEquals(words.isEmpty() ? 0 : 3, run.status, run.out + run.err);
    assertTrue(run.err.contains(words), run.err);
  }

  /** Nineteen changes may all be large by chance. */
  @Test
  void fewChangesShowNoRounding() {
    CoarseReadings readings = new CoarseReadings();
    for (int i = 0; i < 20; i++) {
      readings.take(29, 2 + i % 2);
      readings.take(Double.NaN, Double.NaN);
    }
    assertTrue(readings.finding().isEmpty());
    readings.take(29, 2);
    assertEquals(
        "bus_a is rounded to 1.00 A, too coarse for an estimate (mean 2.48 A)",
        readings.finding().orElseThrow().line());
  }
}
