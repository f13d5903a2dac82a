package org.solarmargin.cli.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.function.ToDoubleFunction;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;

/** For any length of flight there are few rows, and no important row is lost. */
class DownsamplerProperties {

  private static final int MOST_ROWS = 11_000;
  private static final double NAN = Double.NaN;

  private static FlightRow row(double t, double volts, double available, double demand, int level) {
    return new FlightRow(
        new FlightRow.Read(t, volts, 3, 0.5),
        new FlightRow.Power(available, 0.9 * available, demand, 25, 0.7, 10),
        new FlightRow.Cells(0.9, 45),
        2,
        level,
        NAN);
  }

  @Property(tries = 25, seed = "31")
  void extremesAndAlertsAreKept(
      @ForAll long seed, @ForAll @IntRange(min = 1, max = 60_000) int samples) {
    Random random = new Random(seed);
    Downsampler downsampler = new Downsampler();
    List<FlightRow> all = new ArrayList<>();
    double time = 1000 * random.nextDouble();
    double available = 140;
    for (int i = 0; i < samples; i++) {
      time += random.nextInt(1000) == 0 ? 5 : 0.02;
      available = Math.max(available + random.nextGaussian(), 1);
      double volts = 29 + random.nextGaussian();
      double demand = 80 + 10 * random.nextGaussian();
      FlightRow row = row(time, volts, available, demand, random.nextInt(3000) == 0 ? 3 : 0);
      all.add(row);
      downsampler.take(row);
    }
    List<FlightRow> kept = downsampler.rows();
    assertTrue(kept.size() <= MOST_ROWS, "rows " + kept.size());
    assertEquals(samples, downsampler.taken());
    assertEquals(all.get(0), kept.get(0));
    assertEquals(all.get(samples - 1), kept.get(kept.size() - 1));
    List<ToDoubleFunction<FlightRow>> curves =
        List.of(
            row -> row.power().available(), row -> row.power().demand(), row -> row.read().volts());
    for (ToDoubleFunction<FlightRow> curve : curves) {
      assertEquals(
          all.stream().mapToDouble(curve).min().orElse(NAN),
          kept.stream().mapToDouble(curve).min().orElse(NAN));
      assertEquals(
          all.stream().mapToDouble(curve).max().orElse(NAN),
          kept.stream().mapToDouble(curve).max().orElse(NAN));
    }
    Set<FlightRow> shown = new HashSet<>(kept);
    boolean anyAlert = all.stream().anyMatch(r -> r.level() == 3);
    assertEquals(anyAlert, shown.stream().anyMatch(r -> r.level() == 3), "alerts");
    for (int i = 1; i < kept.size(); i++) {
      assertTrue(kept.get(i).seconds() > kept.get(i - 1).seconds(), "in order, none twice");
    }
  }
}
