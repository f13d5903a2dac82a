package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.MarginEstimator;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** A saved state gives the same bits in a used monitor as in a new one. */
class RestoreTest {

  private static final TimeModel BEHIND_FILTERS =
      new TimeModel(
          new ChannelTiming(0.08, 0, 0, 0.01),
          new ChannelTiming(0.1, 0.02, 0, 0.01),
          0.02,
          0,
          true,
          TimeModel.Source.STATED);

  private final List<String> alerts = new ArrayList<>();

  private MarginMonitor monitor(EstimatorSettings settings, String name) {
    return new MarginMonitor(
        settings,
        AlertRules.DEFAULT,
        (time, level, raised, watts, margin, seconds) ->
            alerts.add(name + time + level + raised + watts + margin + seconds));
  }

  private static void fly(MarginMonitor monitor, TestFlight flight, int samples, boolean warm) {
    for (int i = 0; i < samples; i++) {
      flight.next();
      double celsius = warm ? flight.cellCelsius + 4 : Double.NaN;
      monitor.update(
          Math.round(flight.seconds * 1e9),
          flight.busVolts,
          flight.busAmps,
          flight.throttle,
          celsius);
    }
  }

  @Property(tries = 30)
  void usedAsNew(
      @ForAll @IntRange(min = 50, max = 1500) int before,
      @ForAll @IntRange(min = 0, max = 1500) int other,
      @ForAll boolean filtered,
      @ForAll boolean thermometer) {
    EstimatorSettings settings =
        filtered ? TestCraft.SETTINGS.withTiming(BEHIND_FILTERS) : TestCraft.SETTINGS;
    MarginMonitor saver = monitor(settings, "saver");
    TestFlight flight = new TestFlight(t -> 0.95 - 0.012 * t, t -> 0.5, 50, before);
    fly(saver, flight, before, thermometer);
    byte[] state = new byte[MarginEstimator.STATE_BYTES];
    saver.save(state);
    MarginMonitor used = monitor(settings, "");
    fly(used, new TestFlight(t -> 0.7, t -> 0.55, 50, other), other, !thermometer);
    MarginMonitor fresh = monitor(settings, "");
    long now = Math.round(flight.seconds * 1e9) + 40_000_000L;
    assertTrue(used.restore(state, now, 0.04) && fresh.restore(state, now, 0.04));
    alerts.clear();
    List<String> heardByUsed = new ArrayList<>();
    for (int i = 0; i < 700; i++) {
      flight.next();
      long time = now + i * 20_000_000L;
      used.update(time, flight.busVolts, flight.busAmps, flight.throttle);
      heardByUsed.addAll(alerts);
      alerts.clear();
      fresh.update(time, flight.busVolts, flight.busAmps, flight.throttle);
      assertEquals(alerts, heardByUsed, "alerts at " + i);
      alerts.clear();
      heardByUsed.clear();
      assertSame(fresh.reading(), used.reading(), i);
    }
  }

  private static void assertSame(MarginReading a, MarginReading b, int at) {
    assertEquals(a.snapshot(), b.snapshot(), "sample " + at);
    assertEquals(a.cellCelsius(), b.cellCelsius(), 0, "cells at " + at);
    assertEquals(a.suns(), b.suns(), 0, "light at " + at);
  }
}
