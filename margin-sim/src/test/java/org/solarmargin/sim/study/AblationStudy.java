package org.solarmargin.sim.study;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.function.UnaryOperator;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.EstimatorSettings.CellSpread;
import org.solarmargin.core.estimator.EstimatorSettings.Sensors;
import org.solarmargin.core.estimator.EstimatorSettings.Thermal;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.flight.FlightSetup;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

/**
 * The effect of removing one part of the estimator; prints one table. This is a study, not a test.
 */
public final class AblationStudy {

  private static final double JUDGED_AFTER = 8;

  private record Variant(
      String name,
      UnaryOperator<EstimatorSettings> settings,
      boolean throttle,
      boolean thermometer) {}

  private record Row(
      double seconds,
      double volts,
      double amps,
      double throttle,
      double celsius,
      double available) {}

  private AblationStudy() {}

  /**
   * Runs the study.
   *
   * @param args folder of the examples, flights of each scenario
   * @throws Exception if a file cannot be read
   */
  public static void main(String[] args) throws Exception {
    Path examples = Path.of(args[0]);
    int flights = Integer.parseInt(args[1]);
    CraftProfile craft = CraftProfile.read(examples.resolve("stilt/stilt.properties"));
    List<List<Row>> all = new ArrayList<>();
    for (String name :
        List.of(
            "calm-hover", "cloud-passage", "broken-sky", "gusty-hover", "slow-fade", "hot-wind")) {
      Path file = examples.resolve("scenarios/" + name + ".properties");
      SetupMaker maker = new SetupMaker(Scenario.read(file, craft), craft);
      for (int i = 0; i < flights; i++) {
        all.add(record(maker.varied(1000 + i), i));
      }
    }
    System.out.printf(
        "%-34s %7s %7s %7s %7s%n", "without", "rms %", "bias %", "over5 %", "cover %");
    for (Variant variant : variants()) {
      judge(variant, craft.settings(), all);
    }
  }

  private static List<Variant> variants() {
    return List.of(
        new Variant("nothing (the estimator as it is)", s -> s, true, false),
        new Variant("throttle (held at hover's)", s -> s, false, false),
        new Variant(
            "thermal lag (0.5 s)",
            s ->
                with(
                    s,
                    s.cellSpread(),
                    new Thermal(s.thermal().ambientCelsius(), s.thermal().sunRiseKelvin(), 0.5),
                    s.sensors()),
            true,
            false),
        new Variant(
            "hidden current (reading exact)",
            s ->
                with(
                    s,
                    s.cellSpread(),
                    s.thermal(),
                    new Sensors(
                        // its noise converted to voltage noise, with about 0.45 ohm of the array
                        Math.hypot(
                            s.sensors().voltageNoiseVolts(), 0.45 * s.sensors().currentNoiseAmps()),
                        1e-3,
                        s.sensors().voltageGainSd(),
                        s.sensors().currentGainSd(),
                        s.sensors().currentOffsetSdAmps())),
            true,
            false),
        new Variant(
            "uncertainty of constants (taken as exact)",
            s ->
                with(
                    s,
                    new CellSpread(0, 0, 0),
                    s.thermal(),
                    new Sensors(
                        s.sensors().voltageNoiseVolts(), s.sensors().currentNoiseAmps(), 0, 0, 0)),
            true,
            false),
        new Variant("nothing, with a thermometer", s -> s, true, true));
  }

  private static EstimatorSettings with(
      EstimatorSettings s, CellSpread spread, Thermal thermal, Sensors sensors) {
    return new EstimatorSettings(
        s.cell(),
        spread,
        s.seriesCells(),
        s.parallelStrings(),
        thermal,
        s.rotor(),
        sensors,
        s.timing());
  }

  private static List<Row> record(FlightSetup setup, long seed) {
    List<Row> rows = new ArrayList<>();
    boolean[] lost = {false};
    new Flight(setup, seed)
        .fly(
            s -> {
              lost[0] |= s.trueVolts < 0.92 * s.peakVolts;
              if (!lost[0]) {
                rows.add(
                    new Row(
                        s.seconds,
                        s.busVolts,
                        s.busAmps,
                        s.throttle,
                        s.cellCelsius,
                        s.availableWatts));
              }
              return 1;
            });
    return rows;
  }

  private static void judge(Variant variant, EstimatorSettings settings, List<List<Row>> all) {
    double squares = 0;
    double sum = 0;
    long over = 0;
    long covered = 0;
    long n = 0;
    for (List<Row> flight : all) {
      MarginMonitor monitor =
          new MarginMonitor(
              variant.settings().apply(settings), AlertRules.DEFAULT, (t, l, r, w, m, z) -> {});
      for (Row row : flight) {
        double throttle = variant.throttle() ? row.throttle() : settings.rotor().hoverThrottle();
        double celsius = variant.thermometer() ? row.celsius() : Double.NaN;
        monitor.update(Math.round(row.seconds() * 1e9), row.volts(), row.amps(), throttle, celsius);
        if (row.seconds() > JUDGED_AFTER) {
          double error = monitor.reading().availableWatts() / row.available() - 1;
          squares += error * error;
          sum += error;
          over += error > 0.05 ? 1 : 0;
          covered += monitor.reading().availableLowWatts() <= row.available() ? 1 : 0;
          n++;
        }
      }
    }
    System.out.printf(
        "%-34s %7.2f %+7.2f %7.2f %7.2f%n",
        variant.name(),
        100 * Math.sqrt(squares / n),
        100 * sum / n,
        100.0 * over / n,
        100.0 * covered / n);
  }
}
