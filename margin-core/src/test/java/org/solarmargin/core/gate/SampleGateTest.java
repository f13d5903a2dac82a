package org.solarmargin.core.gate;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.core.verdict.GateLimits;
import org.solarmargin.core.verdict.Verdict;

class SampleGateTest {

  private static final long STEP = 20_000_000L;
  private final SampleGate gate =
      new SampleGate(new GateLimits(40, 14, 0.1, 0.4), TimeModel.SIMULTANEOUS);
  private long time;

  private Verdict judge(double volts, double amps, double throttle) {
    time += STEP;
    return gate.judge(time, volts, amps, throttle);
  }

  @Test
  void namesTheFault() {
    assertEquals(Verdict.ACCEPTED, judge(29, 2.5, 0.5));
    assertEquals(Verdict.NO_NEW_READING, judge(Double.NaN, 2.5, 0.5));
    assertEquals(Verdict.NO_NEW_READING, judge(29, 2.5, Double.NaN), "the last command is kept");
    assertEquals(Verdict.NOT_A_NUMBER, judge(29, Double.NEGATIVE_INFINITY, 0.5));
    assertEquals(Verdict.NOT_A_NUMBER, judge(29, 2.5, Double.POSITIVE_INFINITY));
    assertEquals(Verdict.THROTTLE_OUT_OF_RANGE, judge(29, 2.5, 1.7));
    assertEquals(Verdict.THROTTLE_OUT_OF_RANGE, judge(29, 2.5, -0.1));
    assertEquals(Verdict.CURRENT_NEGATIVE, judge(29, -1, 0.5));
    assertEquals(Verdict.CURRENT_IMPOSSIBLE, judge(29, 20, 0.5));
    assertEquals(Verdict.VOLTAGE_NEGATIVE, judge(-3, 2, 0.5));
    assertEquals(Verdict.VOLTAGE_IMPOSSIBLE, judge(41, 2, 0.5));
    assertEquals(
        Verdict.ACCEPTED, judge(29, -0.1, 0.5), "noise may take a reading of zero below zero");
    assertEquals(2, gate.count(Verdict.ACCEPTED));
    assertEquals(12, gate.samples());
  }

  @Test
  void timeMustRise() {
    assertEquals(Verdict.ACCEPTED, gate.judge(100, 29, 2.5, 0.5));
    assertEquals(Verdict.TIME_REPEATED, gate.judge(100, 29, 2.5, 0.5));
    assertEquals(Verdict.TIME_BACKWARD, gate.judge(50, 29, 2.5, 0.5));
    assertEquals(Verdict.ACCEPTED, gate.judge(200, 29.1, 2.5, 0.5));
  }

  @Test
  void aSensorThatStopsChangingWhileTheThrottleMovesIsFrozen() {
    for (int i = 0; i < 20; i++) {
      assertEquals(Verdict.ACCEPTED, judge(29 + 0.01 * (i % 7), 2.5 + 0.01 * (i % 5), 0.5));
    }
    double last = 2.6;
    assertEquals(Verdict.ACCEPTED, judge(29, last, 0.5));
    Verdict verdict = Verdict.ACCEPTED;
    int samples = 0;
    while (verdict != Verdict.FROZEN && samples < 100) {
      samples++;
      verdict = judge(29 + 0.01 * (samples % 7), last, 0.5 + 0.002 * (samples % 9));
    }
    assertEquals(8, samples, "every sample was fresh: 0.16 s at 50 Hz, eight repeats at least");
    assertEquals(Verdict.FROZEN, judge(29, 9.1, 0.5), "one change may be the next freeze");
    assertEquals(Verdict.ACCEPTED, judge(29.01, 9.2, 0.5), "two changes are accepted");
  }

  /** At 8.3 Hz beside 50 Hz: 25 currents in 3 s, and the first three repeats, equal by chance. */
  @Test
  void aSlowCurrentIsNotRepeatedBesideAFreshVoltage() {
    int fresh = 0;
    for (int i = 0; i < 150; i++) {
      judge(29 + 0.01 * (i % 7), 2.5 + 0.1 * (i / 6 % 5), 0.5 + 0.01 * (i % 9));
      fresh += gate.ampsFresh() ? 1 : 0;
      assertTrue(gate.voltsFresh());
    }
    assertEquals(28, fresh);
  }

  @Test
  void aSlowlySampledReadingIsNeitherNewNorFrozenWhenRepeated() {
    int fresh = 0;
    for (int i = 0; i < 300; i++) {
      int slot = i / 12;
      Verdict verdict = judge(29 + 0.1 * (slot % 7), 2.5 + 0.1 * (slot % 5), 0.5 + 0.01 * (i % 9));
      fresh += verdict == Verdict.ACCEPTED ? 1 : 0;
      assertFalse(verdict.refused(), () -> "refused as " + verdict);
    }
    assertEquals(25, fresh, "one in twelve");
  }

  @Test
  void aSlowSensorThatStopsIsFrozenAfterThreeOfItsIntervals() {
    for (int i = 0; i < 120; i++) {
      judge(29 + 0.1 * (i / 12 % 7), 2.5 + 0.1 * (i / 12 % 5), 0.5 + 0.01 * (i % 9));
    }
    int samples = 0;
    Verdict verdict = Verdict.ACCEPTED;
    while (verdict != Verdict.FROZEN && samples < 200) {
      samples++;
      verdict = judge(30.5, 3.5, 0.5 + 0.01 * (samples % 9));
    }
    double seconds = (samples - 1) * 0.02;
    assertEquals(3 * 0.24 + 0.1, seconds, 0.021);
  }

  @Test
  void onlyTheSlowChannelIsHeld() {
    int amps = 0;
    for (int i = 0; i < 300; i++) {
      judge(29 + 0.1 * (i % 7), 2.5 + 0.1 * (i / 6 % 5), 0.5 + 0.01 * (i % 9));
      assertTrue(gate.voltsFresh());
      amps += gate.ampsFresh() ? 1 : 0;
    }
    assertTrue(
        amps < 300 / 6 + 40, "once the interval is known a repeat is not a reading: " + amps);
  }

  @Test
  void constantReadingsOnTheGroundAreNotFrozen() {
    for (int i = 0; i < 200; i++) {
      assertFalse(judge(30 + 0.01 * (i % 5), 0.1, 0.06).refused());
    }
  }

  @Test
  void countsGaps() {
    for (int i = 0; i < 50; i++) {
      judge(29 + 0.01 * (i % 3), 2.5 + 0.01 * i, 0.5);
    }
    time += 5_000_000_000L;
    judge(29, 2.4, 0.5);
    assertEquals(1, gate.gaps());
  }

  @Test
  void slowLogsHaveNoGaps() {
    for (int i = 0; i < 50; i++) {
      time += 500_000_000L;
      judge(29, 2.5 + 0.01 * i, 0.5);
    }
    assertEquals(0, gate.gaps());
  }

  @Test
  void impossibleVoltageMeansTheWrongArray() {
    for (int i = 0; i < 4; i++) {
      judge(60, 2, 0.5);
    }
    assertFalse(gate.wrongArray(), "a few may be a glitch");
    judge(60, 2, 0.5);
    assertTrue(gate.wrongArray());
  }

  @Test
  void aGlitchOfVoltageInALongFlightIsOnlyRefused() {
    for (int i = 0; i < 1000; i++) {
      judge(29 + 0.01 * (i % 3), 2.5 + 0.001 * (i % 90), 0.5);
    }
    for (int i = 0; i < 20; i++) {
      assertEquals(Verdict.VOLTAGE_IMPOSSIBLE, judge(60, 2, 0.5));
    }
    assertFalse(gate.wrongArray());
  }

  @Test
  void resetEqualsNew() {
    judge(60, 2, 0.5);
    gate.reset();
    assertEquals(0, gate.samples());
    assertEquals(Verdict.ACCEPTED, gate.judge(1, 29, 2.5, 0.5));
  }

  @Test
  void limitsMustBePositive() {
    assertThrows(IllegalArgumentException.class, () -> new GateLimits(Double.NaN, 1, 1, 1));
  }
}
