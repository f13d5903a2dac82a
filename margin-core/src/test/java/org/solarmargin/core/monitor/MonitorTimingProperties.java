package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Scale;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.LoggedFlight;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** Properties of readings that are separate, delayed, filtered and held. */
class MonitorTimingProperties {

  private static final double JUDGED_FROM = 10;

  /** A bound of 95 % may exceed the true value in this share of the samples. */
  private static final double MISSED = 0.05;

  private static MarginMonitor monitor(TimeModel timing) {
    return new MarginMonitor(
        TestCraft.SETTINGS.withTiming(timing),
        AlertRules.DEFAULT,
        (time, level, raised, why, margin, toZero) -> {});
  }

  private static TestFlight flight(long seed, double depth) {
    return new TestFlight(t -> 0.9 - depth * Math.sin(0.2 * t), t -> 0.5, 50, seed);
  }

  private static void same(MarginReading a, MarginReading b) {
    assertEquals(a.availableWatts(), b.availableWatts(), 0.0);
    assertEquals(a.availableLowWatts(), b.availableLowWatts(), 0.0);
    assertEquals(a.throttleCeiling(), b.throttleCeiling(), 0.0);
    assertEquals(a.status(), b.status());
  }

  @Property(tries = 20, seed = "41")
  void theOrderOfCommandAndReadingOfOneTimeChangesNothing(
      @ForAll long seed, @ForAll @IntRange(min = 1, max = 6) int every) {
    MarginMonitor first = monitor(TimeModel.SIMULTANEOUS);
    MarginMonitor second = monitor(TimeModel.SIMULTANEOUS);
    TestFlight flight = flight(seed, 0.1);
    for (int i = 0; i < 600; i++) {
      flight.next();
      long time = Math.round(flight.seconds * 1e9);
      first.command(time, flight.throttle);
      if (i % every == 0) {
        first.reading(time, flight.busVolts, flight.busAmps, Double.NaN);
        second.reading(time, flight.busVolts, flight.busAmps, Double.NaN);
      }
      second.command(time, flight.throttle);
      same(first.reading(), second.reading());
    }
    assertTrue(first.reading().availableWatts() > 0);
  }

  @Property(tries = 20, seed = "42")
  void jointAndSeparateInputGiveTheSame(@ForAll long seed) {
    MarginMonitor together = monitor(TimeModel.SIMULTANEOUS);
    MarginMonitor apart = monitor(TimeModel.SIMULTANEOUS);
    TestFlight flight = flight(seed, 0.1);
    for (int i = 0; i < 500; i++) {
      flight.next();
      long time = Math.round(flight.seconds * 1e9);
      together.update(time, flight.busVolts, flight.busAmps, flight.throttle);
      apart.command(time, flight.throttle);
      apart.reading(time, flight.busVolts, flight.busAmps, Double.NaN);
      same(together.reading(), apart.reading());
    }
  }

  @Property(tries = 20, seed = "43")
  void aReadingMayArriveLateWithinTheWindow(
      @ForAll long seed, @ForAll @IntRange(min = 1, max = 20) int late) {
    MarginMonitor inTime = monitor(TimeModel.SIMULTANEOUS);
    MarginMonitor behind = monitor(TimeModel.SIMULTANEOUS);
    TestFlight flight = flight(seed, 0.1);
    double[][] readings = new double[600][];
    for (int i = 0; i < 600; i++) {
      flight.next();
      long time = Math.round(flight.seconds * 1e9);
      readings[i] = new double[] {time, flight.busVolts, flight.busAmps};
      inTime.command(time, flight.throttle);
      behind.command(time, flight.throttle);
      if (i >= late) {
        double[] then = readings[i - late];
        behind.reading((long) then[0], then[1], then[2], Double.NaN);
      }
      inTime.reading(time, flight.busVolts, flight.busAmps, Double.NaN);
    }
    for (int i = 600 - late; i < 600; i++) {
      behind.reading((long) readings[i][0], readings[i][1], readings[i][2], Double.NaN);
    }
    // the time in the air follows the commands, which are ahead of a late reading
    assertEquals(
        inTime.reading().availableWatts(),
        behind.reading().availableWatts(),
        0.01 * inTime.reading().availableWatts());
  }

  @Property(tries = 20, seed = "44")
  void everyRowRepeatedGivesTheEstimatesOfTheLogWithout(
      @ForAll long seed, @ForAll @IntRange(min = 2, max = 8) int times) {
    MarginMonitor once = monitor(TimeModel.SIMULTANEOUS);
    MarginMonitor repeated = monitor(TimeModel.SIMULTANEOUS);
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50.0 / times, seed);
    double lastVolts = Double.NaN;
    double lastAmps = Double.NaN;
    for (int i = 0; i < 200; i++) {
      flight.next();
      if (flight.busVolts == lastVolts && flight.busAmps == lastAmps) {
        continue; // equal to the previous row by chance
      }
      lastVolts = flight.busVolts;
      lastAmps = flight.busAmps;
      long time = Math.round(flight.seconds * 1e9);
      once.update(time, flight.busVolts, flight.busAmps, flight.throttle);
      for (int k = 0; k < times; k++) {
        long later = time + Math.round(0.02e9 * k);
        repeated.update(later, flight.busVolts, flight.busAmps, flight.throttle);
      }
      assertEquals(once.reading().availableWatts(), repeated.reading().availableWatts(), 0.0);
      assertEquals(once.reading().availableLowWatts(), repeated.reading().availableLowWatts(), 0.0);
    }
  }

  /**
   * With a stated time model the bound holds as with immediate readings. Delays are whole intervals
   * of fresh readings; for others see below.
   */
  @Property(tries = 25, seed = "45")
  void aStatedLoggerLeavesNoOptimisticBound(
      @ForAll @DoubleRange(min = 0, max = 0.5) @Scale(3) double filter,
      @ForAll @IntRange(min = 0, max = 2) int intervalsLate,
      @ForAll @IntRange(min = 0, max = 4) int readingsLate,
      @ForAll @IntRange(min = 1, max = 6) int heldFor,
      @ForAll @IntRange(min = 1, max = 1000) int seed) {
    int ampsLate = intervalsLate * heldFor;
    ChannelTiming volts = new ChannelTiming(filter, 0, 0, 0.01);
    ChannelTiming amps = new ChannelTiming(filter, 0.02 * ampsLate, 0, 0.01);
    TimeModel stated =
        new TimeModel(volts, amps, 0, 0.02 * readingsLate, true, TimeModel.Source.STATED);
    LoggedFlight log =
        new LoggedFlight(flight(seed, 0.08), filter, filter, ampsLate, readingsLate, heldFor, 0.01);
    double share = missed(monitor(stated), log, 40);
    assertTrue(share <= MISSED, () -> "missed in " + share);
  }

  /** A delay that is not a multiple of the interval of held readings. */
  @Property(tries = 10, seed = "47")
  void aDelayBetweenHeldReadingsBiasesTheBoundLow(
      @ForAll @IntRange(min = 1, max = 2) int late,
      @ForAll @IntRange(min = 1, max = 1000) int seed) {
    ChannelTiming amps = new ChannelTiming(0, 0.02 * late, 0, 0.01);
    TimeModel stated =
        new TimeModel(ChannelTiming.IMMEDIATE, amps, 0, 0, true, TimeModel.Source.STATED);
    LoggedFlight log = new LoggedFlight(flight(seed, 0.08), 0, 0, late, 0, 5, 0.01);
    double share = missed(monitor(stated), log, 40);
    assertTrue(share <= MISSED, () -> "missed in " + share);
  }

  /** Without a stated time model, the throttle is not used until it is known to match in time. */
  @Property(tries = 20, seed = "46")
  void anUnstatedLoggerLeavesNoOptimisticBound(
      @ForAll @DoubleRange(min = 0, max = 0.5) @Scale(3) double voltsFilter,
      @ForAll @DoubleRange(min = -0.1, max = 0.1) @Scale(3) double difference,
      @ForAll @IntRange(min = 0, max = 5) int ampsLate,
      @ForAll @IntRange(min = 0, max = 4) int readingsLate,
      @ForAll @IntRange(min = 1, max = 6) int heldFor,
      @ForAll @IntRange(min = 1, max = 1000) int seed) {
    double ampsFilter = Math.max(voltsFilter + difference, 0);
    LoggedFlight log =
        new LoggedFlight(
            flight(seed, 0.08), voltsFilter, ampsFilter, ampsLate, readingsLate, heldFor, 0.01);
    double share = missed(monitor(TimeModel.UNKNOWN), log, 90);
    assertTrue(share <= MISSED, () -> "missed in " + share);
  }

  private static double missed(MarginMonitor monitor, LoggedFlight log, double seconds) {
    int missed = 0;
    int judged = 0;
    while (log.flight().seconds < seconds) {
      log.next();
      monitor.update(log.nanos(), log.busVolts, log.busAmps, log.flight().throttle);
      MarginReading reading = monitor.reading();
      if (log.flight().seconds > JUDGED_FROM && reading.status() != Status.NO_ESTIMATE) {
        judged++;
        missed += reading.availableLowWatts() > log.flight().availableWatts ? 1 : 0;
      }
    }
    assertTrue(judged > 1000, "there is an estimate");
    return (double) missed / judged;
  }
}
