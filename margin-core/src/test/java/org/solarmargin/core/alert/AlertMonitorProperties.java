package org.solarmargin.core.alert;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayDeque;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.Scale;

class AlertMonitorProperties {

  private static final long MINUTE = 60_000_000_000L;

  @Property(tries = 200, seed = "21")
  void raisesAtMostThreeAMinute(
      @ForAll long seed, @ForAll @Scale(4) @DoubleRange(min = 0.02, max = 5) double longestStay) {
    ArrayDeque<Long> raises = new ArrayDeque<>();
    AlertMonitor monitor =
        new AlertMonitor(
            new AlertRules(
                new LevelRule(25, 20, 0, 0, 0),
                new LevelRule(12, 10, 0, 0, 0),
                new LevelRule(3, 5, 0, 0, 0),
                0.1),
            (time, level, raised, reason, margin, toZero) -> {
              if (raised) {
                raises.add(time);
                raises.removeIf(t -> time - t >= MINUTE);
                assertTrue(raises.size() <= 3, "raises in a minute: " + raises.size());
              }
            });
    Random random = new Random(seed);
    long time = 0;
    double low = 140;
    boolean blind = false;
    boolean knee = false;
    double until = 0;
    for (int i = 0; i < 10_000; i++) {
      time += 20_000_000L;
      if (time * 1e-9 > until) {
        until = time * 1e-9 + longestStay * random.nextDouble();
        low = 60 + 100 * random.nextDouble();
        blind = random.nextInt(10) == 0;
        knee = random.nextInt(10) == 0;
      }
      double toZero = random.nextInt(5) == 0 ? 10 * random.nextDouble() : Double.POSITIVE_INFINITY;
      monitor.update(
          time,
          0.02,
          blind ? FlightPhase.BLIND : knee ? FlightPhase.PAST_KNEE : FlightPhase.TRUSTED,
          new PowerRow(low * 1.05, low, 80, toZero));
      boolean mustWarn = !blind && (knee || low * 1.05 < 80);
      assertTrue(!mustWarn || monitor.level() == AlertLevel.WARNING, "a WARNING is never withheld");
    }
  }

  /**
   * For any input, an acknowledged alert is silent until it is cleared or a higher one is raised.
   */
  @Property(tries = 200, seed = "22")
  void anAcknowledgedAlertIsSilentUntilItIsClearedOrAHigherOneIsRaised(@ForAll long seed) {
    AlertMonitor monitor =
        new AlertMonitor(AlertRules.DEFAULT, (t, level, raised, why, m, z) -> {});
    Random random = new Random(seed);
    AlertLevel acknowledged = AlertLevel.NONE;
    double low = 140;
    for (int i = 0; i < 5000; i++) {
      low = random.nextInt(100) == 0 ? 70 + 60 * random.nextDouble() : low;
      monitor.update(
          20_000_000L * i, 0.02, FlightPhase.TRUSTED, new PowerRow(low * 1.05, low, 80, 1e9));
      if (monitor.level().ordinal() < acknowledged.ordinal()) {
        acknowledged = monitor.level();
      }
      boolean silent = monitor.level().ordinal() <= acknowledged.ordinal();
      assertEquals(silent ? AlertLevel.NONE : monitor.level(), monitor.sounding());
      if (random.nextInt(200) == 0) {
        monitor.acknowledge();
        acknowledged = monitor.level();
        assertEquals(AlertLevel.NONE, monitor.sounding());
      }
    }
  }
}
