package org.solarmargin.cli.ramp;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.cli.Cli;

/** A slow throttle ramp on a tether distinguishes even from uneven light, for any logger. */
class RampTest {

  private static final int CLEAN = 8;

  @TempDir private Path folder;

  private static RampStudy study() throws IOException {
    return new RampStudy(Cli.EXAMPLES);
  }

  static List<String> loggers() {
    return RampStudy.loggers();
  }

  @ParameterizedTest
  @MethodSource("loggers")
  void evenLightIsNotCalledUneven(String logger) throws IOException {
    for (int seed = 0; seed < CLEAN; seed++) {
      RampFit fit = RampFit.of(study().craft().settings(), study().ramp(seed, logger));
      assertEquals(RampFit.Light.EVEN, fit.light(), logger + " " + seed);
    }
  }

  @ParameterizedTest
  @MethodSource("loggers")
  void dimCellsAreNotCalledEven(String logger) throws IOException {
    double meanError = 0;
    for (int cells = 2; cells <= 8; cells += 2) {
      double light = 0.3 + 0.05 * cells;
      RampStudy study = study();
      RampFit fit = RampFit.of(study.craft().settings(), study.shaded(cells, logger, cells, light));
      assertNotEquals(RampFit.Light.EVEN, fit.light(), logger + " " + cells);
      boolean slow = logger.contains("held") || logger.contains("thinned");
      if (!slow) {
        assertEquals(RampFit.Light.UNEVEN, fit.light(), logger + " " + cells);
        double missing = study.missingCells(cells, cells, light, fit.mostPowerful().amps());
        double error = fit.missingCells() - missing;
        assertEquals(0, error, RampText.MISSING_CELLS_ERROR, logger + " " + cells);
        meanError += 0.25 * error;
      }
    }
    assertEquals(0, meanError, 0.6, logger);
  }

  private String words(String scenario, Object... more) {
    Path log = folder.resolve(scenario + ".csv");
    Path file = Cli.EXAMPLES.resolve("scenarios/" + scenario + ".properties");
    Path truth = folder.resolve("truth.csv");
    Cli flown = Cli.run("simulate", file, "--craft", Cli.STILT, "--log", log, "--truth", truth);
    assertEquals(0, flown.status, flown.err);
    Object[] args = new Object[4 + more.length];
    Object[] first = {"replay", log, "--craft", Cli.STILT};
    System.arraycopy(first, 0, args, 0, 4);
    System.arraycopy(more, 0, args, 4, more.length);
    return Cli.run(args).out.replaceAll("\\s+", " ");
  }

  @Test
  void replayReportsTheRamp() {
    assertTrue(words("tethered-ramp").contains("no knee up to its top"));
    String shaded = words("tethered-ramp-shaded");
    assertTrue(
        shaded.contains("UNEVEN LIGHT") && shaded.contains("cells (+-2) is missing"), shaded);
  }

  @Test
  void anArrayThatDeliversLessThanRatedIsReported() {
    // the scenario's light is 950 W/m2
    String less = words("tethered-ramp", "--irradiance", 1080);
    assertTrue(less.contains("LESS than rated"), less);
    String rated = words("tethered-ramp", "--irradiance", 950);
    assertTrue(rated.contains("as rated"), rated);
    assertEquals(2, Cli.run("replay", "x.csv", "--craft", Cli.STILT, "--irradiance", 1).status);
  }
}
