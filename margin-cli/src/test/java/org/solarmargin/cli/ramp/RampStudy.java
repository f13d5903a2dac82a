package org.solarmargin.cli.ramp;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.PropertiesFile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

/** Simulates tethered ramps of random crafts, even and with dim cells, and prints what is found. */
final class RampStudy {

  private final Path examples;
  private final CraftProfile craft;

  RampStudy(Path examples) throws IOException {
    this.examples = examples;
    this.craft = CraftProfile.read(examples.resolve("stilt/stilt.properties"));
  }

  CraftProfile craft() {
    return craft;
  }

  /**
   * A ramp of a random craft with additional keys, among them those of a logger's timing scenario.
   */
  List<RampPoint> ramp(long seed, String logger, String... more) throws IOException {
    List<String> lines = new ArrayList<>();
    lines.addAll(Files.readAllLines(examples.resolve("scenarios/tethered-ramp.properties")));
    if (!logger.isEmpty()) {
      for (String line :
          Files.readAllLines(examples.resolve("scenarios/" + logger + ".properties"))) {
        if (line.matches("(sensor|log|craft\\.command).*")) {
          lines.add(line);
        }
      }
    }
    for (String line : more) {
      String key = line.substring(0, line.indexOf('='));
      lines.removeIf(old -> old.replace(" ", "").startsWith(key + "="));
      lines.add(line);
    }
    Path file = Files.createTempFile("ramp", ".properties");
    Files.write(file, lines);
    Scenario scenario = Scenario.of(new StrictProperties("ramp", PropertiesFile.read(file)), craft);
    Files.delete(file);
    RampFinder finder = new RampFinder(craft.settings().rotor().hoverThrottle());
    new Flight(new SetupMaker(scenario, craft).varied(seed), seed)
        .fly(
            s -> {
              if (!s.missing) {
                finder.take(s.seconds, s.busVolts, s.busAmps, s.throttle, Double.NaN);
              }
              return 1;
            });
    return finder.points();
  }

  /**
   * Arguments: the examples' folder, number of even ramps for each logger, number of shaded ramps.
   */
  public static void main(String[] args) throws IOException {
    RampStudy study = new RampStudy(Path.of(args[0]));
    int clean = Integer.parseInt(args[1]);
    int shaded = Integer.parseInt(args[2]);
    for (String logger : loggers()) {
      int[] count = new int[3];
      for (int i = 0; i < clean; i++) {
        RampFit fit = RampFit.of(study.craft.settings(), study.ramp(i, logger));
        count[fit.light().ordinal()]++;
        if (fit.light() != RampFit.Light.EVEN) {
          System.out.printf(
              "  clean %d evidence %.1f k %.1f d %.2f%n",
              i, fit.evidence(), fit.dimCells(), fit.dimLight());
        }
      }
      System.out.printf(
          Locale.ROOT,
          "clean %s: even %d uneven %d undecided %d%n",
          logger,
          count[0],
          count[1],
          count[2]);
    }
    for (String logger : loggers()) {
      int[] count = new int[3];
      int near = 0;
      for (int i = 0; i < shaded; i++) {
        int cells = 2 + i % 7;
        double light = 0.3 + 0.5 * ((i * 37) % 50) / 49;
        RampFit fit =
            RampFit.of(
                study.craft.settings(),
                study.ramp(
                    i,
                    logger,
                    "ramp.top=0.75",
                    "array.odd_cells=" + cells,
                    "array.odd_light=" + light));
        count[fit.light().ordinal()]++;
        boolean within = Math.abs(fit.dimCells() - cells) <= 1;
        near += fit.light() == RampFit.Light.UNEVEN && within ? 1 : 0;
        if (fit.light() != RampFit.Light.UNEVEN || !within) {
          System.out.printf(
              Locale.ROOT,
              "  %d of %d at %.2f: %s ev %.1f k %.2f d %.2f%n",
              i,
              cells,
              light,
              fit.light(),
              fit.evidence(),
              fit.dimCells(),
              fit.dimLight());
        }
      }
      System.out.printf(
          Locale.ROOT,
          "shaded %s: even %d uneven %d undecided %d, cells within one %d%n",
          logger,
          count[0],
          count[1],
          count[2],
          near);
    }
  }

  static List<String> loggers() {
    return List.of(
        "",
        "timing-filtered-module",
        "timing-held-battery",
        "timing-late-current",
        "timing-thinned-telemetry");
  }
}
