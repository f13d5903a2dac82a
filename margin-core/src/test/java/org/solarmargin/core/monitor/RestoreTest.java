package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.File;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.EstimatorSettings;
import org.solarmargin.core.estimator.MarginEstimator;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
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

  /** Identity hashes, of enum constants for example, differ between the two runs. */
  @Test
  void aStateSavedByAnotherRunIsRestored(@TempDir Path folder) throws Exception {
    Path file = folder.resolve("state");
    Process other =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:+UnlockExperimentalVMOptions",
                "-XX:hashCode=2",
                "-cp",
                root(MarginMonitor.class) + File.pathSeparator + root(SavedInAnotherRun.class),
                SavedInAnotherRun.class.getName(),
                file.toString())
            .inheritIO()
            .start();
    assertEquals(0, other.waitFor());
    MarginMonitor monitor = monitor(TestCraft.SETTINGS, "");
    assertTrue(monitor.restore(Files.readAllBytes(file), 10_000_000_000L, 1));
  }

  /** The folder from which a class was loaded. */
  private static Path root(Class<?> type) throws URISyntaxException {
    String name = type.getName().replace('.', '/') + ".class";
    String file = Path.of(type.getResource("/" + name).toURI()).toString();
    return Path.of(file.substring(0, file.length() - name.length()));
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
    byte[] state = new byte[MarginMonitor.STATE_BYTES];
    saver.save(state);
    MarginMonitor used = monitor(settings, "");
    fly(used, new TestFlight(t -> 0.7, t -> 0.55, 50, other), other, !thermometer);
    MarginMonitor fresh = monitor(settings, "");
    long now = Math.round(flight.seconds * 1e9) + 40_000_000L;
    assertTrue(used.restore(state, now, 0.04) && fresh.restore(state, now, 0.04));
    alerts.clear();
    List<String> eventsOfUsed = new ArrayList<>();
    for (int i = 0; i < 700; i++) {
      flight.next();
      long time = now + i * 20_000_000L;
      used.update(time, flight.busVolts, flight.busAmps, flight.throttle);
      eventsOfUsed.addAll(alerts);
      alerts.clear();
      fresh.update(time, flight.busVolts, flight.busAmps, flight.throttle);
      assertEquals(alerts, eventsOfUsed, "alerts at " + i);
      alerts.clear();
      eventsOfUsed.clear();
      assertSame(fresh.reading(), used.reading(), i);
    }
  }

  @Test
  void activeAlertsAreActiveAfterARestartAndReportedAgain() {
    MarginMonitor saver = monitor(TestCraft.SETTINGS, "saver");
    TestFlight flight = new TestFlight(t -> 0.95 - 0.012 * t, t -> 0.5, 50, 3);
    while (saver.level() != AlertLevel.WARNING) {
      fly(saver, flight, 1, false);
    }
    byte[] state = new byte[MarginMonitor.STATE_BYTES];
    saver.save(state);
    alerts.clear();
    MarginMonitor restarted = monitor(TestCraft.SETTINGS, "");
    long now = 5_000_000_000L;
    assertTrue(restarted.restore(state, now, 1));
    assertEquals(AlertLevel.WARNING, restarted.level());
    assertEquals(AlertLevel.WARNING, restarted.sounding());
    assertEquals(1, alerts.size(), alerts.toString());
    assertTrue(alerts.get(0).startsWith(now + "WARNINGtrue"), alerts.toString());
    for (int i = 1; i <= 25; i++) {
      flight.next();
      restarted.update(now + i * 20_000_000L, flight.busVolts, flight.busAmps, flight.throttle);
      assertEquals(AlertLevel.WARNING, restarted.level(), "the margin is as low as it was");
    }
  }

  @Test
  void aStateOfAnEarlierVersionIsRefusedAndNoAlertIsActive() {
    MarginMonitor monitor = monitor(TestCraft.SETTINGS, "");
    fly(monitor, new TestFlight(t -> 0.9, t -> 0.5, 50, 3), 500, false);
    byte[] state = new byte[MarginMonitor.STATE_BYTES];
    monitor.save(state);
    // the first form ended with the estimator's
    byte[] earlier = Arrays.copyOf(state, MarginEstimator.STATE_BYTES);
    assertFalse(monitor.restore(earlier, 0, 0));
    byte[] padded = Arrays.copyOf(earlier, state.length);
    assertFalse(monitor.restore(padded, 0, 0));
    assertEquals(Status.NO_ESTIMATE, monitor.reading().status());
    assertEquals(AlertLevel.NONE, monitor.level());
    assertFalse(monitor.airborne());
  }

  @Test
  void afterARefusedStateTheEstimateIsLowerThanThatOfANewMonitor() {
    MarginMonitor restarted = monitor(TestCraft.SETTINGS, "");
    assertFalse(restarted.restore(new byte[3], 0, 0));
    MarginMonitor fresh = monitor(TestCraft.SETTINGS, "");
    fly(restarted, new TestFlight(t -> 0.9, t -> 0.5, 50, 3), 500, false);
    fly(fresh, new TestFlight(t -> 0.9, t -> 0.5, 50, 3), 500, false);
    double lower = restarted.reading().availableWatts() / fresh.reading().availableWatts();
    assertTrue(lower < 0.99 && lower > 0.96, "half of some 3 % lower: " + lower);
  }

  private static void assertSame(MarginReading a, MarginReading b, int at) {
    assertEquals(a.snapshot(), b.snapshot(), "sample " + at);
    assertEquals(a.cellCelsius(), b.cellCelsius(), 0, "cells at " + at);
    assertEquals(a.suns(), b.suns(), 0, "light at " + at);
  }
}
