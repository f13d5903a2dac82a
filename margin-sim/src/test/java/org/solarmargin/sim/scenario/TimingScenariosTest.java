package org.solarmargin.sim.scenario;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.flight.Flight;

/** The example scenarios whose readings and throttle do not belong to the same instant. */
class TimingScenariosTest {

  private static final Path EXAMPLES = Path.of("..", "examples");

  private record Line(double volts, double amps, double trueVolts, double throttle, double height) {

    boolean repeats(Line before) {
      return volts == before.volts && amps == before.amps;
    }
  }

  private static List<Line> fly(String name) throws Exception {
    CraftProfile craft = CraftProfile.read(EXAMPLES.resolve("stilt/stilt.properties"));
    Path file = EXAMPLES.resolve("scenarios/timing-" + name + ".properties");
    SetupMaker maker = new SetupMaker(Scenario.read(file, craft), craft);
    List<Line> lines = new ArrayList<>();
    new Flight(maker.asStated(1), 1)
        .fly(
            s -> {
              lines.add(new Line(s.busVolts, s.busAmps, s.trueVolts, s.throttle, s.heightMetres));
              return 1;
            });
    return lines;
  }

  @ParameterizedTest
  @CsvSource({
    "filtered-module, 6001",
    "held-battery, 6001",
    "late-current, 6001",
    "thinned-telemetry, 601"
  })
  void eachFlightEndsInTheAir(String name, int samples) throws Exception {
    List<Line> lines = fly(name);
    assertEquals(samples, lines.size());
    List<Line> middle = lines.subList(samples / 4, samples / 2);
    for (Line line : middle) {
      assertEquals(10, line.height(), 1.5);
      assertEquals(line.trueVolts(), line.volts(), 3, "readings stay near the true values");
    }
  }

  /** Share of the bus voltage's changes from sample to sample that the readings show. */
  @ParameterizedTest
  @CsvSource({"filtered-module, 0, 0.25", "late-current, 0.25, 0.8"})
  void filteredReadingsAppearStiff(String name, double least, double most) throws Exception {
    List<Line> lines = fly(name);
    double read = 0;
    double real = 0;
    for (int i = 500; i < lines.size(); i++) {
      read += Math.abs(lines.get(i).volts() - lines.get(i - 5).volts());
      real += Math.abs(lines.get(i).trueVolts() - lines.get(i - 5).trueVolts());
    }
    assertTrue(read / real > least && read / real < most, name + ": " + read / real);
  }

  /** 8 Hz out of 50: 42 of 50 pairs repeat. */
  @ParameterizedTest
  @CsvSource({"held-battery, 0.83, 0.85", "filtered-module, 0, 0.3", "thinned-telemetry, 0, 0.3"})
  void repeatsAreThoseOfTheHold(String name, double least, double most) throws Exception {
    List<Line> lines = fly(name);
    int repeats = 0;
    for (int i = 1; i < lines.size(); i++) {
      repeats += lines.get(i).repeats(lines.get(i - 1)) ? 1 : 0;
    }
    double share = repeats / (lines.size() - 1.0);
    assertTrue(share >= least && share <= most, name + ": " + share);
  }

  @Test
  void telemetryLogsWholePercent() throws Exception {
    for (Line line : fly("thinned-telemetry")) {
      assertEquals(Math.rint(100 * line.throttle()), 100 * line.throttle(), 1e-9);
    }
  }
}
