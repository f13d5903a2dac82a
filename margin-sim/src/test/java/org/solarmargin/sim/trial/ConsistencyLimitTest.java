package org.solarmargin.sim.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.core.verdict.Verdict;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.flight.FlightSetup;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

/**
 * The estimator gives a filter up whose mean normalised innovation over three seconds is above 8
 * for ten seconds. Flights of every scenario, through losses and behind loggers that the profile
 * does not state, stay far from that.
 */
class ConsistencyLimitTest {

  private static final Path EXAMPLES = Path.of("..", "examples");
  private static final double MEAN_SECONDS = 3;
  private static final double LARGEST = 30;
  private static final double LIMIT = 8;
  private static final long SEED = 7;

  /** The mean innovation of a flight, limited as the estimator's, and the time above the limit. */
  private static final class Innovations {
    private double last;
    private double mean = 2;
    private double above;
    private double longest;

    void take(double seconds, double innovation) {
      double share = Math.min((seconds - last) / MEAN_SECONDS, 1);
      mean += share * (Math.min(innovation, LARGEST) - mean);
      above = mean > LIMIT ? above + seconds - last : 0;
      longest = Math.max(longest, above);
      last = seconds;
    }
  }

  private static Innovations fly(FlightSetup setup, CraftProfile profile) {
    MarginMonitor monitor =
        new MarginMonitor(
            profile.settings(),
            AlertRules.DEFAULT,
            (nanos, level, raised, reason, margin, toZero) -> {});
    Innovations innovations = new Innovations();
    new Flight(setup, SEED)
        .fly(
            s -> {
              long nanos = Math.round(s.seconds * 1e9);
              Verdict verdict = monitor.update(nanos, s.busVolts, s.busAmps, s.throttle);
              if (verdict == Verdict.ACCEPTED) {
                innovations.take(s.seconds, monitor.normalisedInnovation());
              }
              return 1;
            });
    return innovations;
  }

  @Test
  void noScenarioComesNearTheLimit() throws Exception {
    CraftProfile craft = CraftProfile.read(EXAMPLES.resolve("stilt/stilt.properties"));
    Map<String, Double> above = new TreeMap<>();
    int flights = 0;
    try (DirectoryStream<Path> files =
        Files.newDirectoryStream(EXAMPLES.resolve("scenarios"), "*.properties")) {
      for (Path file : files) {
        String name = file.getFileName().toString();
        boolean logger = name.startsWith("timing-");
        CraftProfile profile = logger ? craft : craft.withTiming(TimeModel.SIMULTANEOUS);
        FlightSetup setup = new SetupMaker(Scenario.read(file, craft), craft).varied(SEED);
        Innovations innovations = fly(setup, profile);
        flights++;
        if (innovations.longest > 0) {
          above.put(name, innovations.longest);
        }
      }
    }
    assertTrue(flights > 20, "scenarios: " + flights);
    assertEquals(Map.of(), above, "seconds above the limit");
  }
}
