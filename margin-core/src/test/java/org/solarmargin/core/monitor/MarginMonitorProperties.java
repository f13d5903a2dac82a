package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.solarmargin.core.monitor.Monitors.monitor;

import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Scale;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.limiter.ThrottleLimiter;
import org.solarmargin.core.verdict.GateLimits;

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

  /** No input makes an output NaN, negative or higher than the array could ever give. */
  @Property(tries = 300, seed = "31")
  void outputsStayPlausibleForAnyInput(@ForAll long seed) {
    Random random = new Random(seed);
    MarginMonitor monitor = monitor();
    ThrottleLimiter limiter = new ThrottleLimiter();
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
      double cap = limiter.cap(monitor.reading(), monitor.airborne());
      assertTrue(cap >= 0 && cap <= 1, () -> "cap " + cap);
    }
  }

  private static double value(Random random, double scale) {
    return random.nextInt(30) == 0 ? ODD[random.nextInt(ODD.length)] : scale * random.nextDouble();
  }

  /** A monitor that is restored between two samples differs by less than one percent afterwards. */
  @Property(tries = 30, seed = "33")
  void aLogSplitBySaveAndRestoreGivesTheSameResult(
      @ForAll long seed, @ForAll @IntRange(min = 400, max = 900) int split) {
    double[][] log = new double[1000][];
    TestFlight flight = new TestFlight(t -> 0.9 - 0.01 * t, t -> 0.5, 50, seed);
    for (int i = 0; i < log.length; i++) {
      flight.next();
      log[i] = new double[] {flight.seconds, flight.busVolts, flight.busAmps, flight.throttle};
    }
    MarginMonitor whole = monitor();
    feed(whole, log, 0, log.length);
    MarginMonitor first = monitor();
    feed(first, log, 0, split);
    byte[] state = new byte[MarginMonitor.STATE_BYTES];
    first.save(state);
    MarginMonitor second = monitor();
    assertTrue(second.restore(state, Math.round(log[split - 1][0] * 1e9), 0));
    feed(second, log, split, log.length);
    double expected = whole.reading().availableWatts();
    assertEquals(expected, second.reading().availableWatts(), 0.01 * expected);
  }

  private static void feed(MarginMonitor monitor, double[][] log, int from, int to) {
    for (int i = from; i < to; i++) {
      monitor.update(Math.round(log[i][0] * 1e9), log[i][1], log[i][2], log[i][3]);
    }
  }

  /** The reported margin falls when the light falls and when the load rises. */
  @Property(tries = 30, seed = "34")
  void marginFallsWithLightAndWithLoad(
      @ForAll long seed,
      @ForAll @Scale(4) @DoubleRange(min = 0.75, max = 1) double suns,
      @ForAll @Scale(4) @DoubleRange(min = 0.12, max = 0.3) double less,
      @ForAll @Scale(4) @DoubleRange(min = 0.02, max = 0.04) double more) {
    double usual = meanMargin(new TestFlight(t -> suns, t -> 0.48, 50, seed));
    double dimmer = meanMargin(new TestFlight(t -> suns * (1 - less), t -> 0.48, 50, seed));
    double heavier = meanMargin(new TestFlight(t -> suns, t -> 0.48 + more, 50, seed));
    assertTrue(dimmer < usual, dimmer + " in less light, " + usual);
    assertTrue(heavier < usual, heavier + " under more load, " + usual);
  }

  private static double meanMargin(TestFlight flight) {
    MarginMonitor monitor = monitor();
    double sum = 0;
    while (flight.seconds < 20) {
      flight.next();
      monitor.update(
          Math.round(flight.seconds * 1e9), flight.busVolts, flight.busAmps, flight.throttle);
      sum += flight.seconds > 10 ? monitor.reading().marginWatts() : 0;
    }
    return sum / 500;
  }

  /**
   * Under a shadow of any depth and speed, the WARNING is no later than the knee or 0.3 s after it.
   */
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
            // the height control opens the throttle once power is short
            t -> throttle + (depth > 0.3 ? Math.min(Math.max(t - start, 0), 0.4) : 0),
            50,
            seed);
    MarginMonitor monitor = monitor();
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

  /** Bursts of random readings after warm-up leave no optimistic estimate two seconds later. */
  @Property(tries = 60, seed = "41")
  void burstsOfInvalidReadingsLeaveNoOptimisticEstimate(
      @ForAll long seed, @ForAll @IntRange(min = 1, max = 5) int length) {
    Random random = new Random(seed);
    MarginMonitor monitor = Monitors.monitor();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, seed);
    double calmUntil = 15;
    while (flight.seconds < 60) {
      if (flight.seconds > calmUntil) {
        for (int i = 0; i < length; i++) {
          flight.next();
          double volts = random.nextBoolean() ? flight.busVolts : 36 * random.nextDouble();
          double amps = random.nextBoolean() ? flight.busAmps : 12 * random.nextDouble();
          monitor.update(Math.round(flight.seconds * 1e9), volts, amps, flight.throttle);
        }
        calmUntil = flight.seconds + 4 + 4 * random.nextDouble();
      }
      Monitors.feed(monitor, flight);
      if (flight.seconds > 12 && flight.seconds > calmUntil - 2) {
        double error = monitor.reading().availableWatts() / flight.availableWatts - 1;
        assertTrue(error < 0.15, () -> "optimistic by " + error + " at " + flight.seconds);
      }
    }
  }
}
