package org.solarmargin.cli.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import java.util.StringJoiner;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.FlightLog;
import org.solarmargin.cli.FlightLog.Sample;

/** Readings in the first second that the array cannot give cost that second, not the flight. */
class GlitchAtStartTest {

  private static final Path FADE = Cli.EXAMPLES.resolve("flights/slow-fade.csv");
  private static final int HERTZ = 50;

  @TempDir private Path folder;

  private Cli replay(FlightLog.Change change) throws IOException {
    return FlightLog.replay(folder.resolve("log.csv"), FADE, change);
  }

  /** 500 A, of an array that gives 6 A; the mean of that second would look like a stiff bus. */
  @Test
  void impossibleCurrentsDoNotLookLikeABattery() throws IOException {
    Cli run =
        replay(
            (i, s) ->
                new Sample(s.seconds(), s.volts(), i < HERTZ ? 500 : s.amps(), s.throttle())
                    .line());
    assertEquals(4, run.status, run.err);
    assertTrue(run.out.contains("50 current above what the array can give"), run.out);
    assertTrue(run.out.contains("LOST LIFT"), run.out);
    assertFalse(run.out.contains("battery"), run.out);
  }

  /** The demo flight interpolated to 200 lines a second, the first 240 of them with 99 V. */
  @Test
  void impossibleVoltagesAreCountedInSecondsNotInLines() throws IOException {
    List<Sample> samples = FlightLog.samples(FADE);
    int parts = 4;
    Cli run =
        replay(
            (i, s) -> {
              if (i >= 20 * HERTZ) {
                return null;
              }
              Sample next = samples.get(i + 1);
              StringJoiner lines = new StringJoiner("\n");
              for (int k = 0; k < parts; k++) {
                double share = (double) k / parts;
                double volts = s.volts() + share * (next.volts() - s.volts());
                lines.add(
                    new Sample(
                            s.seconds() + share * (next.seconds() - s.seconds()),
                            i < 60 ? 99 : volts,
                            s.amps() + share * (next.amps() - s.amps()),
                            s.throttle() + share * (next.throttle() - s.throttle()))
                        .line());
              }
              return lines.toString();
            });
    assertEquals(0, run.status, run.err);
    assertTrue(run.out.contains("240 voltage above what the array can give"), run.out);
  }
}
