package org.solarmargin.core.gate;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class SampleGateTest {

  private static final long STEP = 20_000_000L;
  private final SampleGate gate = new SampleGate(new GateLimits(40, 14, 0.1, 0.4));
  private long time;

  private Verdict judge(double volts, double amps, double throttle) {
    time += STEP;
    return gate.judge(time, volts, amps, throttle);
  }

  @Test
  void namesWhatIsWrong() {
    assertEquals(Verdict.ACCEPTED, judge(29, 2.5, 0.5));
    assertEquals(Verdict.NOT_A_NUMBER, judge(Double.NaN, 2.5, 0.5));
    assertEquals(Verdict.NOT_A_NUMBER, judge(29, Double.NEGATIVE_INFINITY, 0.5));
    assertEquals(Verdict.NOT_A_NUMBER, judge(29, 2.5, Double.NaN));
    assertEquals(Verdict.THROTTLE_OUT_OF_RANGE, judge(29, 2.5, 1.7));
    assertEquals(Verdict.THROTTLE_OUT_OF_RANGE, judge(29, 2.5, -0.1));
    assertEquals(Verdict.CURRENT_NEGATIVE, judge(29, -1, 0.5));
    assertEquals(Verdict.CURRENT_IMPOSSIBLE, judge(29, 20, 0.5));
    assertEquals(Verdict.VOLTAGE_NEGATIVE, judge(-3, 2, 0.5));
    assertEquals(Verdict.VOLTAGE_IMPOSSIBLE, judge(41, 2, 0.5));
    assertEquals(Verdict.ACCEPTED, judge(29, -0.1, 0.5), "noise may carry a true zero below zero");
    assertEquals(2, gate.count(Verdict.ACCEPTED));
    assertEquals(11, gate.samples());
  }

  @Test
  void timeMustRise() {
    assertEquals(Verdict.ACCEPTED, gate.judge(100, 29, 2.5, 0.5));
    assertEquals(Verdict.TIME_REPEATED, gate.judge(100, 29, 2.5, 0.5));
    assertEquals(Verdict.TIME_BACKWARD, gate.judge(50, 29, 2.5, 0.5));
    assertEquals(Verdict.ACCEPTED, gate.judge(200, 29, 2.5, 0.5));
  }

  @Test
  void aSensorThatRepeatsWhileTheRestMovesIsFrozen() {
    Verdict last = Verdict.ACCEPTED;
    for (int i = 0; i < 40; i++) {
      last = judge(29 + 0.01 * (i % 7), 2.5, 0.5 + 0.002 * (i % 9));
    }
    assertEquals(Verdict.FROZEN, last);
    assertEquals(Verdict.FROZEN, judge(29, 9.1, 0.5), "a leap may be the next freeze");
    assertEquals(Verdict.FROZEN, judge(29.01, 9.1, 0.5), "and here it is");
    assertEquals(Verdict.FROZEN, judge(29, 2.6, 0.5));
    assertEquals(Verdict.ACCEPTED, judge(29, 2.7, 0.5), "it thaws with the second change in a row");
  }

  @Test
  void aQuietGroundIsNotFrozen() {
    for (int i = 0; i < 200; i++) {
      assertEquals(Verdict.ACCEPTED, judge(30 + 0.01 * (i % 5), 0.1, 0.06));
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
