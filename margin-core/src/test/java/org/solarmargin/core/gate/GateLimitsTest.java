package org.solarmargin.core.gate;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.timing.TimeModel;
import org.solarmargin.core.verdict.GateLimits;
import org.solarmargin.core.verdict.Verdict;

/** The exact limits of the gate, and its counts. */
class GateLimitsTest {

  private static final long STEP = 20_000_000L;
  private static final long FAR = 10_000_000_000L;
  private final SampleGate gate =
      new SampleGate(new GateLimits(40, 14, 0.1, 0.4), TimeModel.SIMULTANEOUS);
  private long time;

  private Verdict judge(double volts, double amps, double throttle) {
    time += STEP;
    return gate.judge(time, volts, amps, throttle);
  }

  @ParameterizedTest
  @CsvSource({
    "40, 2.5, 0.5, ACCEPTED",
    "40.001, 2.5, 0.5, VOLTAGE_IMPOSSIBLE",
    "-0.1, 2.5, 0.5, ACCEPTED",
    "-0.101, 2.5, 0.5, VOLTAGE_NEGATIVE",
    "0.05, 2.5, 0.5, ACCEPTED",
    "29, 14, 0.5, ACCEPTED",
    "29, 14.001, 0.5, CURRENT_IMPOSSIBLE",
    "29, -0.4, 0.5, ACCEPTED",
    "29, -0.401, 0.5, CURRENT_NEGATIVE",
    "29, 0.1, 0.5, ACCEPTED",
    "29, 2.5, 0, ACCEPTED",
    "29, 2.5, 1, ACCEPTED",
    "29, 2.5, -0.001, THROTTLE_OUT_OF_RANGE",
    "29, 2.5, 1.001, THROTTLE_OUT_OF_RANGE",
    "Infinity, 2.5, 0.5, NOT_A_NUMBER",
    "29, Infinity, 0.5, NOT_A_NUMBER",
    "29, 2.5, NaN, NOT_A_NUMBER"
  })
  void theFirstSampleIsJudgedByItsLimits(double volts, double amps, double throttle, Verdict is) {
    assertEquals(is, judge(volts, amps, throttle));
    assertEquals(1, gate.count(is));
    assertEquals(is == Verdict.ACCEPTED, gate.voltsFresh());
    assertEquals(is == Verdict.ACCEPTED, gate.ampsFresh());
  }

  @ParameterizedTest
  @CsvSource({"0, 1, 1, 1", "1, 0, 1, 1", "1, 1, 0, 1", "1, 1, 1, 0", "Infinity, 1, 1, 1"})
  void eachLimitMustBePositiveAndFinite(double v, double a, double slackV, double slackA) {
    assertThrows(IllegalArgumentException.class, () -> new GateLimits(v, a, slackV, slackA));
  }

  @Test
  void aCommandWithoutReadingsIsJudged() {
    assertEquals(Verdict.ACCEPTED, gate.judgeCommand(100, 0.5));
    assertEquals(0.5, gate.throttle());
    assertEquals(Verdict.TIME_BACKWARD, gate.judgeCommand(99, 0.6));
    assertEquals(Verdict.ACCEPTED, gate.judgeCommand(100, 0.7), "a command may be replaced");
    assertEquals(Verdict.THROTTLE_OUT_OF_RANGE, gate.judgeCommand(200, 1.1));
    assertEquals(0.7, gate.throttle(), "a refused command changes nothing");
    assertEquals(2, gate.samples(), "only refused ones are counted");
  }

  @Test
  void aCommandFarAheadMustBeConfirmedSoon() {
    gate.judgeCommand(0, 0.5);
    assertEquals(Verdict.ACCEPTED, gate.judgeCommand(FAR, 0.5), "ten seconds are not far");
    assertEquals(Verdict.TIME_AHEAD, gate.judgeCommand(2 * FAR + 1, 0.6));
    assertEquals(Verdict.TIME_AHEAD, gate.judgeCommand(3 * FAR + 2, 0.6), "too long after");
    assertEquals(0.5, gate.throttle());
    assertEquals(Verdict.ACCEPTED, gate.judgeCommand(4 * FAR + 2, 0.7));
    assertEquals(0.7, gate.throttle());
  }

  @Test
  void twentyFivePlausibleReadingsEndTheWrongArray() {
    for (int i = 0; i < 5; i++) {
      judge(60, 2, 0.5);
    }
    assertTrue(gate.wrongArray());
    for (int i = 0; i < 24; i++) {
      judge(29 + 0.01 * i, 2.5 + 0.01 * i, 0.5);
    }
    judge(60, 2, 0.5);
    for (int i = 0; i < 24; i++) {
      judge(29 + 0.01 * i, 2.5 + 0.01 * i, 0.5);
    }
    assertTrue(gate.wrongArray(), "one impossible reading restarts the count");
    judge(28, 2.2, 0.5);
    assertFalse(gate.wrongArray());
    for (int i = 0; i < 4; i++) {
      judge(60, 2, 0.5);
    }
    assertFalse(gate.wrongArray(), "earlier counts are cleared");
    judge(60, 2, 0.5);
    assertTrue(gate.wrongArray());
    gate.reset();
    assertFalse(gate.wrongArray());
    for (int i = 0; i < 4; i++) {
      judge(60, 2, 0.5);
    }
    assertFalse(gate.wrongArray());
  }

  /** As over a link that sends voltage, current and time in rows of their own. */
  @Test
  void rowsWithoutAVoltageDoNotCount() {
    for (int i = 0; i < 50; i++) {
      judge(i % 10 == 0 ? 60 : Double.NaN, 2 + 0.01 * i, 0.5);
    }
    assertTrue(gate.wrongArray(), "five of five voltages");
    for (int i = 0; i < 240; i++) {
      judge(i % 10 == 0 ? 29 + 0.01 * i : Double.NaN, 2 + 0.01 * i, 0.5);
    }
    assertTrue(gate.wrongArray(), "24 plausible voltages");
    judge(28, 2, 0.5);
    assertFalse(gate.wrongArray());
  }

  @Test
  void anImpossibleCurrentRestartsTheCountOfPlausibleReadings() {
    for (int i = 0; i < 5; i++) {
      judge(60, 2, 0.5);
    }
    for (int i = 0; i < 50; i++) {
      judge(29 + 0.01 * i, i % 2 == 0 ? 90 : 2 + 0.01 * i, 0.5);
    }
    assertTrue(gate.wrongArray());
  }

  @Test
  void aFifthOfImpossibleReadingsIsStillAGlitch() {
    for (int i = 0; i < 20; i++) {
      judge(29 + 0.01 * i, 2.5 + 0.01 * i, 0.5);
    }
    for (int i = 0; i < 5; i++) {
      judge(60, 2, 0.5);
    }
    assertFalse(gate.wrongArray(), "5 of 25");
    judge(60, 2, 0.5);
    assertTrue(gate.wrongArray(), "6 of 26");
  }

  @Test
  void refusalsAreCountedUnderTheirVerdict() {
    judge(29, 2.5, 0.5);
    assertEquals(Verdict.SPIKE, gate.recount(Verdict.SPIKE));
    assertEquals(0, gate.count(Verdict.ACCEPTED));
    assertEquals(1, gate.count(Verdict.SPIKE));
    assertEquals(Verdict.NOT_A_NUMBER, gate.refuseUntimed());
    assertEquals(Verdict.TIME_AHEAD, gate.refuse(Verdict.TIME_AHEAD));
    assertEquals(1, gate.count(Verdict.NOT_A_NUMBER));
    assertEquals(1, gate.count(Verdict.TIME_AHEAD));
    assertEquals(3, gate.samples());
    assertEquals(40, gate.limits().highestVolts());
  }

  @Test
  void aReadingWithoutCommandIsJudgedByItsTimeToo() {
    assertEquals(Verdict.ACCEPTED, gate.judgeReading(100, 29, 2.5));
    assertEquals(Verdict.TIME_REPEATED, gate.judgeReading(100, 29, 2.6));
    assertEquals(Verdict.TIME_BACKWARD, gate.judgeReading(99, 29, 2.6));
    assertEquals(Verdict.ACCEPTED, gate.judgeReading(101, 29, 2.6));
    assertEquals(4, gate.samples());
  }

  @Test
  void commandsAreTimedAgainstTheLastOne() {
    gate.judgeCommand(100 * FAR, 0.5);
    assertEquals(Verdict.ACCEPTED, gate.judgeCommand(101 * FAR, 0.6));
    assertEquals(Verdict.TIME_AHEAD, gate.judgeCommand(103 * FAR, 0.7));
    assertEquals(Verdict.ACCEPTED, gate.judgeCommand(103 * FAR, 0.7), "the same stamp bears out");
    assertEquals(
        Verdict.THROTTLE_OUT_OF_RANGE, gate.judgeCommand(103 * FAR, Double.MAX_VALUE), "a number");
  }

  /** A pair repeated for a second, while the throttle rests, is a reading after all. */
  @Test
  void aStillPairIsAReadingAfterASecond() {
    for (double throttle : new double[] {0.0049, 0.005}) {
      time = 5 * FAR;
      gate.reset();
      assertEquals(Verdict.ACCEPTED, judge(29, 2.5, 0));
      time += 999_999_999L - STEP;
      assertEquals(Verdict.NO_NEW_READING, judge(29, 2.5, throttle));
      time += 1 - STEP;
      assertEquals(
          throttle < 0.005 ? Verdict.ACCEPTED : Verdict.NO_NEW_READING, judge(29, 2.5, throttle));
    }
  }

  @Test
  void coarseChannelsRepeatWhatTheyRead() {
    int[] starts = {0, 3, 10, 13, 20, 23, 30, 33};
    for (boolean both : new boolean[] {true, false}) {
      gate.reset();
      int slot = 0;
      for (int i = 0; i < 34; i++) {
        slot += slot < starts.length && i == starts[slot] ? 1 : 0;
        judge(29 + 0.1 * (slot % 2), both ? 2.5 + 0.1 * (slot % 2) : 2.5 + 0.1 * (i / 5 % 2), 0.5);
      }
      judge(29, 2.5, 0.5);
      Verdict repeat = judge(29, 2.5, 0.5);
      assertEquals(both ? Verdict.ACCEPTED : Verdict.NO_NEW_READING, repeat);
      assertEquals(both, gate.voltsFresh());
      assertEquals(both, gate.ampsFresh());
    }
  }

  /** Both channels change every five samples: at the next change an equal one is fresh if due. */
  @Test
  void ofTwoSlowChannelsAnEqualOneIsFreshWhenItIsDue() {
    for (int later : new int[] {4, 2}) {
      gate.reset();
      for (int i = 0; i < 26; i++) {
        judge(29 + 0.1 * (i / 5 % 2), 2.5 + 0.1 * (i / 5 % 2), 0.5);
      }
      for (int i = 1; i < later; i++) {
        assertEquals(Verdict.NO_NEW_READING, judge(29.1, 2.6, 0.5));
      }
      assertEquals(Verdict.ACCEPTED, judge(29, 2.6, 0.5));
      assertTrue(gate.voltsFresh());
      assertEquals(later == 4, gate.ampsFresh(), "due after four fifths of five samples");
    }
  }

  private long gapsAfter(long... stepsMillis) {
    gate.reset();
    judge(29, 2.5, 0.5);
    for (long step : stepsMillis) {
      time += step * 1_000_000L - STEP;
      judge(29, 2.5, 0.5);
    }
    return gate.gaps();
  }

  /**
   * A gap is longer than 0.5 s and than five usual intervals: 160 ms, 1/16 nearer to 320 is 170.
   */
  @Test
  void aGapIsLongerThanFiveUsualIntervals() {
    assertEquals(0, gapsAfter(5000), "nothing is usual yet");
    assertEquals(0, gapsAfter(20, 20, 500));
    assertEquals(1, gapsAfter(20, 20, 501));
    assertEquals(0, gapsAfter(160, 320, 850));
    assertEquals(1, gapsAfter(160, 320, 851));
    assertEquals(1, gapsAfter(20, 5000, 20, 20), "a gap is not usual");
    assertEquals(2, gapsAfter(20, 5000, 501));
  }

  @Test
  void resetForgetsReadingsAndCounts() {
    for (boolean volts : new boolean[] {true, false}) {
      gate.reset();
      time = 0;
      assertEquals(Verdict.ACCEPTED, judge(volts ? 29 : Double.NaN, volts ? Double.NaN : 2.5, 0.5));
      assertEquals(1, gate.count(Verdict.ACCEPTED), "nothing is left of the time before");
    }
    for (int i = 0; i < 2; i++) {
      gate.reset();
      time = 0;
      assertEquals(Verdict.ACCEPTED, judge(29, Double.NaN, 0.5), "equal to the reading before");
    }
    for (int i = 0; i < 2; i++) {
      gate.reset();
      time = 0;
      assertEquals(Verdict.ACCEPTED, judge(Double.NaN, 2.5, 0.5), "equal to the reading before");
    }
  }
}
