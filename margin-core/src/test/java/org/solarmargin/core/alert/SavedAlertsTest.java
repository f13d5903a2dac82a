package org.solarmargin.core.alert;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.state.StateBytes;

/** Active alerts are kept over a restart, and only a complete state of this version is accepted. */
class SavedAlertsTest {

  private static final long STEP_NANOS = 250_000_000L;

  private final List<String> events = new ArrayList<>();

  private AlertMonitor monitor() {
    return new AlertMonitor(
        AlertRules.DEFAULT,
        (nanos, level, raised, reason, margin, toZero) ->
            events.add(nanos / STEP_NANOS + " " + level + raised + reason + margin + toZero));
  }

  @Test
  void theListenerIsCalledAgainForTheHighestLevelWithItsReason() {
    AlertMonitor first = monitor();
    first.update(STEP_NANOS, 0.25, FlightPhase.PAST_KNEE, new PowerRow(90, 80, 100, 1));
    assertEquals(AlertLevel.WARNING, first.level());
    byte[] state = new byte[AlertMonitor.STATE_BYTES];
    first.save(state, 0);
    events.clear();
    AlertMonitor second = monitor();
    assertTrue(second.restore(state, 0, 0, 8 * STEP_NANOS));
    assertEquals(1, events.size(), events.toString());
    // 80 W of 100 W are -20 %, to the last bit as 100 * (0.8 - 1)
    assertEquals("8 WARNINGtruePAST_KNEE" + 100 * (0.8 - 1) + "1.0", events.get(0));
  }

  @Test
  void anIncompleteStateIsRefused() {
    byte[] state = new byte[AlertMonitor.STATE_BYTES];
    monitor().save(state, 0);
    assertFalse(monitor().restore(state, 1, 0, 0), "too short");
    for (int i = 0; i < state.length; i++) {
      byte[] damaged = state.clone();
      damaged[i] ^= 0x10;
      assertRefused(damaged, "byte " + i);
    }
  }

  private void assertRefused(byte[] state, String what) {
    AlertMonitor monitor = monitor();
    monitor.update(STEP_NANOS, 0.25, FlightPhase.PAST_KNEE, new PowerRow(90, 80, 100, 1));
    events.clear();
    assertFalse(monitor.restore(state, 0, 0, 0), what);
    assertEquals(AlertLevel.NONE, monitor.level(), what);
    assertEquals(List.of(), events, what);
  }

  private static byte[] forged(int[] ints, double[] doubles) {
    byte[] state = new byte[AlertMonitor.STATE_BYTES];
    StateBytes bytes = new StateBytes(AlertMonitor.STATE_BYTES);
    bytes.startWriting(state, 0);
    bytes.putInt(AlertMonitor.STATE_MARK);
    bytes.putInt(AlertMonitor.STATE_VERSION);
    for (int value : ints) {
      bytes.putInt(value);
    }
    for (int i = 0; i < 3; i++) {
      bytes.putLong(0);
    }
    for (double value : doubles) {
      bytes.put(value);
    }
    bytes.finishWriting();
    return state;
  }

  @Test
  void impossibleValuesAreRefusedDespiteAValidChecksum() {
    int[] ints = {0, 0, 1, 3, 5};
    double[] doubles = {0, 0, 0, 0, 0, 0, 100, 0, 12, 30};
    assertTrue(monitor().restore(forged(ints, doubles), 0, 0, 0));
    assertTrue(monitor().restore(forged(new int[5], new double[10]), 0, 0, 0), "all zero");
    assertRefused(forgedBy(ints, doubles, (n, d) -> n[4] = 6), "a place that the ring has not");
    for (int i = 0; i < ints.length; i++) {
      for (int value : new int[] {-1, 7}) {
        int at = i;
        assertRefused(forgedBy(ints, doubles, (n, d) -> n[at] = value), "int " + i + ": " + value);
      }
    }
    for (int i = 0; i < doubles.length; i++) {
      int at = i;
      assertRefused(forgedBy(ints, doubles, (n, d) -> d[at] = Double.NaN), "NaN at " + i);
      if (i < 8) {
        assertRefused(forgedBy(ints, doubles, (n, d) -> d[at] = -1), "negative at " + i);
      }
    }
    assertRefused(
        forgedBy(ints, doubles, (n, d) -> d[6] = Double.POSITIVE_INFINITY), "infinite demand");
  }

  private interface Change {
    void in(int[] ints, double[] doubles);
  }

  private static byte[] forgedBy(int[] ints, double[] doubles, Change change) {
    int[] changedInts = ints.clone();
    double[] changedDoubles = doubles.clone();
    change.in(changedInts, changedDoubles);
    return forged(changedInts, changedDoubles);
  }
}
