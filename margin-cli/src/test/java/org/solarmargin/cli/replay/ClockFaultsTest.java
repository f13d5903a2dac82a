package org.solarmargin.cli.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.FlightLog;
import org.solarmargin.cli.FlightLog.Sample;

/** Time stamps that jump and clocks that restart cost a line or two of a log, not the flight. */
class ClockFaultsTest {

  private static final Path FADE = Cli.EXAMPLES.resolve("flights/slow-fade.csv");

  @TempDir private Path folder;

  private Cli replay(FlightLog.Change change) throws IOException {
    return FlightLog.replay(folder.resolve("log.csv"), FADE, change);
  }

  private static String line(Sample s, double later) {
    return new Sample(s.seconds() + later, s.volts(), s.amps(), s.throttle()).line();
  }

  @Test
  void oneStampAnHourAheadCostsOneLine() throws IOException {
    Cli run = replay((i, s) -> line(s, i == 400 ? 3600 : 0));
    assertEquals(4, run.status, run.err);
    assertTrue(run.out.contains("1 time far ahead"), run.out);
    assertTrue(run.out.contains("LOST LIFT"), run.out);
    assertFalse(run.out.contains("gap"), run.out);
  }

  @Test
  void timeContinuesAfterAClockRestart() throws IOException {
    Cli run = replay((i, s) -> line(s, i > 400 ? -7.5 : 0));
    assertEquals(4, run.status, run.err);
    assertTrue(run.out.contains("2 time runs backward"), run.out);
    assertTrue(run.out.contains("LOST LIFT"), run.out);
  }

  @Test
  void aClockThatChangesItsUnitInFlightIsSaid() throws IOException {
    Cli run = replay((i, s) -> line(s, i > 2000 ? 999 * s.seconds() : 0));
    assertEquals(3, run.status, run.err);
    assertTrue(run.err.contains("time far ahead"), run.err);
    assertFalse(run.err.contains("backward"), run.err);
  }

  @Test
  void wrongTimesOfTheFirstLinesAreLeftOut() throws IOException {
    Cli run =
        replay(
            (i, s) ->
                new Sample(s.seconds(), i < 6 ? 900 : s.volts(), s.amps(), s.throttle()).line());
    assertEquals(4, run.status, run.err);
    assertTrue(run.out.contains("LOST LIFT"), run.out);
  }
}
