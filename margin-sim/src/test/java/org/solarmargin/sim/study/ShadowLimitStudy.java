package org.solarmargin.sim.study;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.profile.CraftProfile;
import org.solarmargin.core.profile.StrictProperties;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.sim.array.ArrayLayout;
import org.solarmargin.sim.array.ArrayLayout.GroupLayout;
import org.solarmargin.sim.array.ArrayLayout.StringLayout;
import org.solarmargin.sim.array.ArrayLayout.SubstringLayout;
import org.solarmargin.sim.array.SimArray;
import org.solarmargin.sim.flight.Flight;
import org.solarmargin.sim.flight.FlightSetup;
import org.solarmargin.sim.scenario.Scenario;
import org.solarmargin.sim.scenario.SetupMaker;

/**
 * The time before the knee from which a creeping shadow on a few cells can be distinguished from a
 * uniform change of the light, and how close the estimator comes to it; prints one table. This is a
 * study, not a test.
 *
 * <p>The criterion is the chi-square of the best uniform change over a window of 4 s, with cells,
 * temperature and the shape of the noise known exactly: 9 or more (3 sigmas with one degree of
 * freedom) is distinguishable.
 */
public final class ShadowLimitStudy {

  private static final double WINDOW_SECONDS = 4;
  private static final int EVERY = 5;
  private static final double DISTINGUISHABLE = 9;
  private static final double ZERO_CELSIUS = 273.15;

  private record Row(
      double seconds,
      double volts,
      double amps,
      double suns,
      double celsius,
      boolean claimed,
      boolean held,
      boolean warned) {}

  private record Lead(double distinguishable, double claimed, double held, double warned) {}

  private final CraftProfile craft;
  private final String scenario;

  private ShadowLimitStudy(CraftProfile craft, String scenario) {
    this.craft = craft;
    this.scenario = scenario;
  }

  /**
   * Runs the study.
   *
   * @param args folder of the examples, flights of each number of cells
   * @throws Exception if a file cannot be read
   */
  public static void main(String[] args) throws Exception {
    Path examples = Path.of(args[0]);
    int flights = Integer.parseInt(args[1]);
    Path file = examples.resolve("scenarios/creeping-shadow.properties");
    ShadowLimitStudy study =
        new ShadowLimitStudy(
            CraftProfile.read(examples.resolve("stilt/stilt.properties"))
                .withTiming(TimeModel.SIMULTANEOUS),
            Files.readString(file));
    System.out.println("seconds before the knee: deciles 1, 5 and 9 of the flights that reach it");
    System.out.printf(
        "%5s %7s %18s %18s %18s %18s%n",
        "cells", "flights", "distinguishable", "shadow reported", "bound holds", "WARNING active");
    for (int cells : new int[] {2, 4, 8}) {
      study.print(cells, flights);
    }
  }

  private void print(int cells, int flights) throws IOException {
    String text = scenario.replaceAll("(?m)^array.odd_cells.*$", "array.odd_cells = " + cells);
    Scenario known =
        Scenario.of(new StrictProperties("creeping", text), craft).withKnownCellsAndSensors();
    SetupMaker maker = new SetupMaker(known, craft);
    List<Lead> leads = new ArrayList<>();
    for (int i = 0; i < flights; i++) {
      FlightSetup setup = maker.varied(100 + i);
      List<Row> rows = new ArrayList<>();
      double knee = fly(setup, i, rows);
      if (knee > 0) {
        leads.add(lead(setup, rows, knee));
      }
    }
    System.out.printf(
        "%5d %7d %18s %18s %18s %18s%n",
        cells,
        leads.size(),
        spread(leads.stream().mapToDouble(Lead::distinguishable).toArray()),
        spread(leads.stream().mapToDouble(Lead::claimed).toArray()),
        spread(leads.stream().mapToDouble(Lead::held).toArray()),
        spread(leads.stream().mapToDouble(Lead::warned).toArray()));
  }

  /** Returns when the craft passed the knee, s; 0 if it did not. */
  private double fly(FlightSetup setup, long seed, List<Row> rows) {
    double[] knee = {0};
    boolean[] warned = {false};
    MarginMonitor monitor =
        new MarginMonitor(
            craft.settings(),
            craft.rules(),
            (t, level, up, reason, margin, toZero) ->
                warned[0] = level.name().equals("WARNING") ? up : warned[0]);
    new Flight(setup, seed)
        .fly(
            s -> {
              if (knee[0] > 0 || s.missing) {
                return 1;
              }
              monitor.update(Math.round(s.seconds * 1e9), s.busVolts, s.busAmps, s.throttle);
              rows.add(
                  new Row(
                      s.seconds,
                      s.trueVolts,
                      s.demandWatts / s.trueVolts,
                      s.suns,
                      s.cellCelsius,
                      monitor.reading().unevenLightProbability() > 0.5,
                      monitor.reading().availableLowWatts() <= s.availableWatts,
                      warned[0]));
              if (s.trueVolts < s.peakVolts) {
                // a gust may do so too: it counts as the knee only if lift is lost
                knee[0] = s.trueVolts < 0.92 * s.peakVolts ? s.seconds : 0;
              }
              return 1;
            });
    return knee[0];
  }

  private Lead lead(FlightSetup setup, List<Row> rows, double knee) {
    SimArray even = new SimArray(even(setup.layout()));
    double distinguishable = knee;
    double claimed = knee;
    double held = knee;
    double warned = knee;
    boolean stillDistinguishable = true;
    boolean claims = true;
    boolean holds = true;
    boolean warns = true;
    for (int i = rows.size() - 1; i >= 0 && rows.get(i).seconds() > WINDOW_SECONDS + 8; i--) {
      Row row = rows.get(i);
      if (stillDistinguishable && i % EVERY == 0) {
        stillDistinguishable = excess(even, rows, i) >= DISTINGUISHABLE;
      }
      claims &= row.claimed();
      holds &= row.held();
      warns &= row.warned();
      distinguishable = stillDistinguishable ? row.seconds() : distinguishable;
      claimed = claims ? row.seconds() : claimed;
      held = holds ? row.seconds() : held;
      warned = warns ? row.seconds() : warned;
    }
    return new Lead(knee - distinguishable, knee - claimed, knee - held, knee - warned);
  }

  /** Chi-square of the best uniform change over the window that ends with a row. */
  private double excess(SimArray even, List<Row> rows, int last) {
    double light = 0;
    double left = 0;
    for (int round = 0; round < 4; round++) {
      double information = 0;
      double pull = 0;
      left = 0;
      for (int i = last; i >= 0 && inWindow(rows, i, last); i -= EVERY) {
        Row row = rows.get(i);
        double kelvin = row.celsius() + ZERO_CELSIUS;
        even.set(row.suns() * Math.exp(light + 1e-4), kelvin);
        double more = even.ampsAt(row.volts());
        even.set(row.suns() * Math.exp(light), kelvin);
        double amps = even.ampsAt(row.volts());
        double perLight = (more - amps) / 1e-4;
        double slope = even.ampsPerVolt();
        double sigmaVolts = slope * craft.settings().sensors().voltageNoiseVolts();
        double sigmaAmps = craft.settings().sensors().currentNoiseAmps();
        double weight = EVERY / (sigmaVolts * sigmaVolts + sigmaAmps * sigmaAmps);
        double error = row.amps() - amps;
        information += weight * perLight * perLight;
        pull += weight * perLight * error;
        left += weight * error * error;
      }
      light += pull / information;
    }
    return left;
  }

  private static boolean inWindow(List<Row> rows, int row, int last) {
    return rows.get(row).seconds() > rows.get(last).seconds() - WINDOW_SECONDS;
  }

  /** The same array with the same light on all of its cells. */
  private static ArrayLayout even(ArrayLayout layout) {
    List<StringLayout> strings = new ArrayList<>();
    for (StringLayout string : layout.strings()) {
      List<SubstringLayout> parts = new ArrayList<>();
      for (SubstringLayout part : string.substrings()) {
        List<GroupLayout> groups = new ArrayList<>();
        for (GroupLayout g : part.groups()) {
          groups.add(new GroupLayout(g.cell(), g.count(), 1, g.temperatureOffset()));
        }
        parts.add(new SubstringLayout(groups, part.bypassed()));
      }
      strings.add(new StringLayout(parts));
    }
    return new ArrayLayout(strings, layout.blockingDiodes());
  }

  private static String spread(double[] values) {
    if (values.length == 0) {
      return "-";
    }
    Arrays.sort(values);
    return String.format("%.1f/%.1f/%.1f", at(values, 0.1), at(values, 0.5), at(values, 0.9));
  }

  private static double at(double[] sorted, double share) {
    return sorted[(int) Math.round(share * (sorted.length - 1))];
  }
}
