package org.solarmargin.sim.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

class TrialRunnerTest {

  private static final Path EXAMPLES = Path.of("..", "examples");

  private static TrialRunner runner(String scenario, int flights, TrialRunner.Limiter limiter)
      throws Exception {
    return runner(scenario, flights, 5, limiter);
  }

  private static TrialRunner runner(
      String scenario, int flights, long seed, TrialRunner.Limiter limiter) throws Exception {
    CraftProfile craft = CraftProfile.read(EXAMPLES.resolve("stilt/stilt.properties"));
    Path file = EXAMPLES.resolve("scenarios/" + scenario + ".properties");
    SetupMaker maker = new SetupMaker(Scenario.read(file, craft), craft);
    return new TrialRunner(List.of(maker), craft, flights, seed, limiter);
  }

  @Test
  void theNumberOfThreadsDoesNotMatter() throws Exception {
    List<Outcome> one = runner("fast-edge", 4, TrialRunner.Limiter.OFF).run(1, done -> {});
    List<Outcome> three = runner("fast-edge", 4, TrialRunner.Limiter.OFF).run(3, done -> {});
    assertEquals(one, three);
  }

  @Test
  void drawnLoggersDependOnTheSeedAlone() throws Exception {
    CraftProfile craft = CraftProfile.read(EXAMPLES.resolve("stilt/stilt.properties"));
    Path file = EXAMPLES.resolve("scenarios/fast-edge.properties");
    Scenario drawn = Scenario.read(file, craft).withDrawnLogger();
    List<Outcome> one = outcomes(drawn, craft, 1);
    assertEquals(one, outcomes(drawn, craft, 2));
    assertNotEquals(one, outcomes(Scenario.read(file, craft), craft, 2));
  }

  private static List<Outcome> outcomes(Scenario scenario, CraftProfile craft, int threads)
      throws Exception {
    SetupMaker maker = new SetupMaker(scenario, craft);
    return new TrialRunner(List.of(maker), craft, 3, 5, TrialRunner.Limiter.BOTH)
        .run(threads, done -> {});
  }

  @Test
  void lossesAreWarnedOfAndTheLimiterPreventsThem() throws Exception {
    List<Outcome> all = runner("slow-fade", 8, TrialRunner.Limiter.BOTH).run(2, done -> {});
    TrialSummary off = new TrialSummary(all.stream().filter(o -> !o.limiter()).toList());
    TrialSummary on = new TrialSummary(all.stream().filter(Outcome::limiter).toList());
    assertTrue(off.losses() >= 6, "losses without: " + off.losses());
    assertEquals(0, off.missed());
    assertEquals(0, on.losses());
    assertTrue(off.coverage() > 0.9, "coverage " + off.coverage());
  }

  /**
   * The ceiling near the knee is that of the lower bound at the present voltage; that of the
   * estimate loses three of these flights.
   */
  @Test
  void theCeilingHoldsUnderACreepingShadow() throws Exception {
    List<Outcome> all = runner("creeping-shadow", 20, 1, TrialRunner.Limiter.ON).run(2, done -> {});
    assertEquals(0, new TrialSummary(all).losses());
  }

  @Test
  void knownCellsAndSensorsAreEstimatedBetter() throws Exception {
    CraftProfile craft = CraftProfile.read(EXAMPLES.resolve("stilt/stilt.properties"));
    Path file = EXAMPLES.resolve("scenarios/cloud-passage.properties");
    Scenario drawn = Scenario.read(file, craft);
    TrialSummary off = fly(drawn, craft);
    TrialSummary known = fly(drawn.withKnownCellsAndSensors(), craft);
    assertTrue(
        known.rmsPercent() < off.rmsPercent(), known.rmsPercent() + " and " + off.rmsPercent());
    assertTrue(known.errorQuantilePercent(0.95) < off.errorQuantilePercent(0.95));
    assertTrue(known.coverage() > 0.99, "coverage " + known.coverage());
  }

  @Test
  void errorQuantilesAreConsistentWithTheRootMeanSquare() throws Exception {
    CraftProfile craft = CraftProfile.read(EXAMPLES.resolve("stilt/stilt.properties"));
    Path file = EXAMPLES.resolve("scenarios/calm-hover.properties");
    TrialSummary s = fly(Scenario.read(file, craft), craft);
    double median = s.errorQuantilePercent(0.5);
    assertTrue(median > 0 && median < s.rmsPercent() * 1.2, "median " + median);
    assertTrue(s.errorQuantilePercent(0.95) > s.rmsPercent(), "the 95 % quantile is above the rms");
    assertTrue(s.errorQuantilePercent(1) >= s.errorQuantilePercent(0.95));
    assertTrue(Double.isNaN(new TrialSummary(List.of()).errorQuantilePercent(0.5)));
  }

  private static TrialSummary fly(Scenario scenario, CraftProfile craft) throws Exception {
    SetupMaker maker = new SetupMaker(scenario, craft);
    return new TrialSummary(
        new TrialRunner(List.of(maker), craft, 10, 3, TrialRunner.Limiter.OFF).run(2, done -> {}));
  }

  @Test
  void everyScenarioIsReadAndSaysWhatItDemonstrates() throws Exception {
    CraftProfile craft = CraftProfile.read(EXAMPLES.resolve("stilt/stilt.properties"));
    try (var files = java.nio.file.Files.list(EXAMPLES.resolve("scenarios"))) {
      List<Path> all = files.sorted().toList();
      assertTrue(all.size() >= 8);
      for (Path file : all) {
        SetupMaker maker = new SetupMaker(Scenario.read(file, craft), craft);
        double mass = maker.varied(1).airframe().massKilograms();
        assertEquals(mass, maker.varied(1).airframe().massKilograms(), file.toString());
        assertNotEquals(mass, maker.varied(2).airframe().massKilograms(), file.toString());
        assertTrue(
            java.nio.file.Files.readString(file).startsWith("# Demonstrates: "), file.toString());
      }
    }
  }

  @Test
  void stoppingKeepsFinishedFlights() throws Exception {
    TrialRunner runner = runner("fast-edge", 40, TrialRunner.Limiter.OFF);
    List<Outcome> some =
        runner.run(
            2,
            done -> {
              if (done == 3) {
                runner.stop();
              }
            });
    assertTrue(some.size() >= 3 && some.size() < 40, "done " + some.size());
  }

  /** Before a loss under a shadow that takes a minute to develop, a WARNING is active. */
  @Test
  void aCreepingShadowIsWarnedOf() throws Exception {
    List<Outcome> all = runner("creeping-shadow", 8, TrialRunner.Limiter.OFF).run(2, done -> {});
    TrialSummary summary = new TrialSummary(all);
    assertTrue(summary.losses() >= 6, "losses: " + summary.losses());
    assertEquals(0, summary.missed());
  }

  /** Flown both ways, a flight is what it is flown either way alone. */
  @Test
  void bothIsEachAlone() throws Exception {
    List<Outcome> both = runner("fast-edge", 2, TrialRunner.Limiter.BOTH).run(2, done -> {});
    List<Outcome> off = runner("fast-edge", 2, TrialRunner.Limiter.OFF).run(2, done -> {});
    List<Outcome> on = runner("fast-edge", 2, TrialRunner.Limiter.ON).run(2, done -> {});
    assertEquals(List.of(off.get(0), on.get(0), off.get(1), on.get(1)), both);
  }

  /** Samples that are missing leave the throttle's limit as it was: no flight is lost by them. */
  @Test
  void theLimiterHoldsThroughMissingSamples() throws Exception {
    CraftProfile craft = CraftProfile.read(EXAMPLES.resolve("stilt/stilt.properties"));
    String fade =
        """
        plan = 10:100
        sky.kind = ramps
        sky.suns = 0.95
        sky.low_suns = 0.38
        sky.suns_per_s = 0.008
        sky.repeats = 0
        sensor.dropout_share = 0.3
        """;
    Scenario scenario = Scenario.of(new StrictProperties("s", fade), craft);
    List<Outcome> all =
        new TrialRunner(
                List.of(new SetupMaker(scenario, craft)), craft, 2, 5, TrialRunner.Limiter.BOTH)
            .run(2, done -> {});
    assertEquals(2, all.stream().filter(o -> !o.limiter() && o.lost()).count());
    assertEquals(0, all.stream().filter(o -> o.limiter() && o.lost()).count());
  }

  /** Where readings come at once a silent profile is told so; where they do not, it is not. */
  @Test
  void theMonitorIsToldOfReadingsThatComeAtOnceAndOfNoOthers() throws Exception {
    CraftProfile silent = CraftProfile.read(EXAMPLES.resolve("stilt/stilt.properties"));
    CraftProfile told = silent.withTiming(TimeModel.SIMULTANEOUS);
    assertEquals(flown("", silent), flown("", told));
    for (String logger :
        List.of(
            "sensor.voltage_filter_s = 0.2",
            "sensor.current_filter_s = 0.2",
            "craft.command_lag_s = 0.2")) {
      assertNotEquals(flown(logger, silent), flown(logger, told), logger);
    }
  }

  private static List<Outcome> flown(String logger, CraftProfile craft) throws Exception {
    String text = "plan = 10:20\nsky.suns = 0.9\n" + logger + "\n";
    Scenario scenario = Scenario.of(new StrictProperties("s", text), craft);
    List<SetupMaker> makers = List.of(new SetupMaker(scenario, craft));
    return new TrialRunner(makers, craft, 1, 5, TrialRunner.Limiter.OFF).run(1, done -> {});
  }
}
