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
          System.out.printf(Locale.ROOT, "  clean %d evidence %.1f%n", i, fit.evidence());
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
      List<Double> errors = new ArrayList<>();
      for (int i = 0; i < shaded; i++) {
        int cells = 2 + i % 7;
        double light = 0.3 + 0.5 * ((i * 37) % 50) / 49;
        RampFit fit = RampFit.of(study.craft.settings(), study.shaded(i, logger, cells, light));
        count[fit.light().ordinal()]++;
        double missing = study.missingCells(i, cells, light, fit.mostPowerful().amps());
        if (fit.light() == RampFit.Light.UNEVEN) {
          errors.add(fit.missingCells() - missing);
        }
        System.out.printf(
            Locale.ROOT,
            "  %d of %d at %.2f: %s evidence %.1f missing %.2f cells, true %.2f%n",
            i,
            cells,
            light,
            fit.light(),
            fit.evidence(),
            fit.missingCells(),
            missing);
      }
      errors.sort(null);
      System.out.printf(
          Locale.ROOT,
          "shaded %s: even %d uneven %d undecided %d, error of the missing cells %.2f to %.2f%n",
          logger,
          count[0],
          count[1],
          count[2],
          errors.isEmpty() ? 0 : errors.get(0),
          errors.isEmpty() ? 0 : errors.get(errors.size() - 1));
    }
  }

  /** A ramp with some cells of each string in less light. */
  List<RampPoint> shaded(long seed, String logger, int cells, double light) throws IOException {
    return ramp(
        seed, logger, "ramp.top=0.75", "array.odd_cells=" + cells, "array.odd_light=" + light);
  }

  /**
   * The voltage, in cells, that the shadow takes at a current: two flights of one craft, one of
   * them in even light, both read without a logger's errors of time.
   */
  double missingCells(long seed, int cells, double light, double amps) throws IOException {
    double even = volts(shaded(seed, "", cells, 1), amps);
    double uneven = volts(shaded(seed, "", cells, light), amps);
    return (even - uneven) / even * craft.settings().seriesCells();
  }

  private static double volts(List<RampPoint> points, double amps) {
    double nearest = Double.POSITIVE_INFINITY;
    double volts = Double.NaN;
    for (int i = 1; i < points.size(); i++) {
      RampPoint a = points.get(i - 1);
      RampPoint b = points.get(i);
      double part = (amps - a.amps()) / (b.amps() - a.amps());
      if (part >= 0 && part <= 1) {
        return a.volts() + part * (b.volts() - a.volts());
      }
      if (Math.abs(amps - b.amps()) < nearest) {
        nearest = Math.abs(amps - b.amps());
        volts = b.volts();
      }
    }
    return volts;
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
