package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Scale;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.gate.GateLimits;

class MarginMonitorProperties {

  private static final double[] ODD = {
    Double.NaN,
    Double.POSITIVE_INFINITY,
    Double.NEGATIVE_INFINITY,
    Double.MAX_VALUE,
    -Double.MAX_VALUE,
    Double.MIN_VALUE,
    0,
    -0.0,
    1e-300,
    1,
    -1,
    36,
    1e6
  };

  private static double physicalLimit() {
    SolarArray array = new SolarArray(TestCraft.SETTINGS.cell(), 48, 1);
    array.set(GateLimits.BRIGHTEST_SUNS, -50);
    array.solvePeak();
    return array.peakWatts() * 1.2;
  }

  private static void check(MarginReading reading, double limit) {
    if (reading.status() == Status.NO_ESTIMATE) {
      return;
    }
    assertTrue(
        reading.availableWatts() > 0 && reading.availableWatts() <= limit,
        () -> "available " + reading.availableWatts());
    assertTrue(
        reading.availableLowWatts() >= 0 && reading.availableLowWatts() <= reading.availableWatts(),
        () -> "low " + reading.availableLowWatts());
    assertTrue(reading.demandWatts() >= 0);
    assertTrue(reading.throttleCeiling() >= 0 && reading.throttleCeiling() <= 1);
    assertTrue(reading.peakVolts() > 0 && reading.secondsToZero() >= 0);
    assertTrue(reading.liftReservePercent() >= -100 && reading.liftReservePercent() <= 900);
  }

  /** No input of any kind makes an output NaN, negative or above what the array could ever give. */
  @Property(tries = 300, seed = "31")
  void survivesAnyInput(@ForAll long seed) {
    Random random = new Random(seed);
    MarginMonitor monitor =
        new MarginMonitor(TestCraft.SETTINGS, AlertRules.DEFAULT, (t, l, r, w, m, z) -> {});
    double limit = physicalLimit();
    long time = 0;
    for (int i = 0; i < 400; i++) {
      time += random.nextInt(20) == 0 ? random.nextLong() >> random.nextInt(60) : 20_000_000L;
      monitor.update(
          time,
          value(random, 33),
          value(random, 7),
          value(random, 1),
          random.nextInt(10) == 0 ? value(random, 60) : Double.NaN);
      check(monitor.reading(), limit);
    }
  }

  private static double value(Random random, double scale) {
    return random.nextInt(30) == 0 ? ODD[random.nextInt(ODD.length)] : scale * random.nextDouble();
  }

  /** A shadow of any depth and speed warns no later than the knee, or 0.3 s after the step. */
  @Property(tries = 60, seed = "32")
  void aSuddenShadowWarnsInTime(
      @ForAll long seed,
      @ForAll @Scale(4) @DoubleRange(min = 0.05, max = 0.95) double depth,
      @ForAll @Scale(4) @DoubleRange(min = 0.001, max = 3) double edgeSeconds,
      @ForAll @Scale(4) @DoubleRange(min = 0.44, max = 0.54) double throttle) {
    double start = 15;
    TestFlight flight =
        new TestFlight(
            t -> 0.95 * (1 - depth * Math.min(Math.max((t - start) / edgeSeconds, 0), 1)),
            // the height loop opens the throttle once the craft is short of power
            t -> throttle + (depth > 0.3 ? Math.min(Math.max(t - start, 0), 0.4) : 0),
            50,
            seed);
    MarginMonitor monitor =
        new MarginMonitor(TestCraft.SETTINGS, AlertRules.DEFAULT, (t, l, r, w, m, z) -> {});
    double crossed = Double.NaN;
    double warned = Double.NaN;
    while (flight.seconds < 25) {
      flight.next();
      monitor.update(
          Math.round(flight.seconds * 1e9), flight.busVolts, flight.busAmps, flight.throttle);
      if (Double.isNaN(crossed) && flight.trueVolts < flight.peakVolts) {
        crossed = flight.seconds;
      }
      if (Double.isNaN(warned) && monitor.level() == AlertLevel.WARNING) {
        warned = flight.seconds;
      }
    }
    if (!Double.isNaN(crossed)) {
      double latest = Math.max(crossed, start + 0.3) + 1e-9;
      assertTrue(warned <= latest, "knee at " + crossed + ", warned at " + warned);
    }
  }
}
