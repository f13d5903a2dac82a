package org.solarmargin.core.alert;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Three raises a minute: seconds at which levels without delays are raised and cleared. */
class RaisesAMinuteTest {

  private static final double DEMAND = 100;
  private final List<String> told = new ArrayList<>();

  private AlertMonitor monitor() {
    return new AlertMonitor(
        new AlertRules(
            new LevelRule(25, 0, 0, 0, 5),
            new LevelRule(12, 0, 0, 0, 5),
            new LevelRule(3, 0, 0, 0, 5),
            0.1),
        (nanos, level, raised, reason, margin, toZero) ->
            told.add(nanos / 1_000_000_000L + " " + level + (raised ? " raised" : " cleared")));
  }

  private static void second(AlertMonitor monitor, int second, double percent) {
    double low = DEMAND + percent;
    monitor.update(
        second * 1_000_000_000L,
        1,
        FlightPhase.TRUSTED,
        new PowerRow(2 * low, low, DEMAND, Double.POSITIVE_INFINITY));
  }

  @Test
  void aWarningStandsUntilTheFirstOfThreeRaisesIsAMinuteOld() {
    AlertMonitor monitor = monitor();
    second(monitor, 100, 20);
    second(monitor, 101, 10);
    second(monitor, 102, 1);
    for (int i = 103; i < 160; i++) {
      second(monitor, i, 22);
    }
    assertEquals(List.of("100 ADVISORY raised", "101 CAUTION raised", "102 WARNING raised"), told);
    second(monitor, 160, 22);
    assertEquals("160 WARNING cleared", told.get(3));
    assertEquals(AlertLevel.ADVISORY, monitor.level(), "the CAUTION ended behind the WARNING");
  }

  @Test
  void twoRaisesDoNotHoldAWarning() {
    AlertMonitor monitor = monitor();
    second(monitor, 100, 10);
    second(monitor, 102, 1);
    second(monitor, 103, 22);
    assertEquals(
        List.of(
            "100 CAUTION raised",
            "102 WARNING raised",
            "103 WARNING cleared",
            "103 CAUTION cleared"),
        told);
  }

  /**
   * Raises at 0, 1, 2, 70 s; a restart; then at 72 and 73 s. Three lie in the minute until 130 s.
   */
  @Test
  void aRestartForgetsNoRaiseOfTheMinute() {
    AlertMonitor monitor = monitor();
    second(monitor, 0, 20);
    second(monitor, 1, 10);
    second(monitor, 2, 1);
    second(monitor, 61, 60);
    second(monitor, 70, 20);
    second(monitor, 71, 20);
    assertEquals(AlertLevel.ADVISORY, monitor.level());
    byte[] state = new byte[AlertMonitor.STATE_BYTES];
    monitor.save(state, 0);
    AlertMonitor restored = monitor();
    assertTrue(restored.restore(state, 0, 71_000_000_000L, 71_000_000_000L));
    told.clear();
    second(restored, 72, 10);
    second(restored, 73, 1);
    for (int i = 74; i < 130; i++) {
      second(restored, i, 60);
    }
    assertEquals(List.of("72 CAUTION raised", "73 WARNING raised"), told);
    second(restored, 130, 60);
    assertEquals("130 WARNING cleared", told.get(2));
  }
}
