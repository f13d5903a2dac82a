package org.solarmargin.core.gate;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.solarmargin.core.verdict.Verdict;

/** Which stamps are believed, and what time is then; all times are worked out by hand. */
class SampleClockTest {

  private static final long MS = 1_000_000L;
  private static final long LONGEST = 10_000_000_000L;
  private static final long HOUR = 3_600_000_000_000L;
  private final SampleClock clock = new SampleClock();

  /** Stamps every 20 ms, the last of them at a time. */
  private void runTo(long last) {
    for (long stamp = last - 40 * MS; stamp <= last; stamp += 20 * MS) {
      assertEquals(Verdict.ACCEPTED, clock.judge(stamp));
    }
  }

  @Test
  void aStepOfTenSecondsIsBelievedALongerOneIsNot() {
    assertEquals(Verdict.ACCEPTED, clock.judge(-7 * HOUR), "the origin is free");
    assertEquals(Verdict.ACCEPTED, clock.judge(-7 * HOUR + LONGEST));
    assertEquals(Verdict.TIME_AHEAD, clock.judge(-7 * HOUR + 2 * LONGEST + 1));
    assertEquals(Verdict.TIME_REPEATED, clock.judge(-7 * HOUR + LONGEST));
    assertEquals(Verdict.TIME_BACKWARD, clock.judge(-7 * HOUR + LONGEST - 1));
    assertEquals(-7 * HOUR + LONGEST, clock.nanos(), "what is refused does not move time");
    assertEquals(Verdict.ACCEPTED, clock.judge(-7 * HOUR + LONGEST + 1));
    assertEquals(-7 * HOUR + LONGEST + 1, clock.nanos());
    assertEquals(0, clock.shiftNanos());
  }

  @Test
  void aClockThatStartsAnewGoesOnOneUsualStepLater() {
    runTo(1000 * MS);
    assertEquals(Verdict.TIME_BACKWARD, clock.judge(5 * MS));
    assertEquals(Verdict.TIME_BACKWARD, clock.judge(25 * MS));
    assertEquals(1000 * MS, clock.nanos());
    assertEquals(Verdict.ACCEPTED, clock.judge(45 * MS));
    assertEquals(1020 * MS, clock.nanos());
    assertEquals(975 * MS, clock.shiftNanos());
    assertEquals(Verdict.ACCEPTED, clock.judge(65 * MS));
    assertEquals(1040 * MS, clock.nanos());
    assertEquals(Verdict.TIME_BACKWARD, clock.judge(64 * MS));
    assertEquals(Verdict.TIME_REPEATED, clock.judge(65 * MS));
  }

  @Test
  void aClockThatWentAheadLeavesAGap() {
    runTo(1000 * MS);
    assertEquals(Verdict.TIME_AHEAD, clock.judge(HOUR));
    assertEquals(Verdict.TIME_AHEAD, clock.judge(HOUR + LONGEST), "ten seconds still agree");
    assertEquals(Verdict.ACCEPTED, clock.judge(HOUR + LONGEST + 1));
    assertEquals(HOUR + LONGEST + 1, clock.nanos());
    assertEquals(0, clock.shiftNanos());
  }

  @Test
  void aClockOfOneSampleGoesOnByANanosecond() {
    clock.judge(100);
    clock.judge(50);
    clock.judge(60);
    assertEquals(Verdict.ACCEPTED, clock.judge(70));
    assertEquals(101, clock.nanos());
    assertEquals(31, clock.shiftNanos());
  }

  @Test
  void stampsAgreeOnlyIfEachIsLaterAndByTenSecondsAtMost() {
    runTo(1000 * MS);
    for (long stamp : new long[] {0, 0, 1, 1, 0, 1, -LONGEST, 1, 1 + LONGEST}) {
      assertTrue(clock.judge(stamp - HOUR).refused(), "stamp " + stamp);
    }
  }

  @Test
  void aSampleThatIsAcceptedStartsTheAgreementAnew() {
    runTo(1000 * MS);
    assertEquals(Verdict.TIME_BACKWARD, clock.judge(5 * MS));
    assertEquals(Verdict.TIME_BACKWARD, clock.judge(25 * MS));
    assertEquals(Verdict.ACCEPTED, clock.judge(1020 * MS));
    assertEquals(Verdict.TIME_BACKWARD, clock.judge(45 * MS));
    assertEquals(Verdict.TIME_BACKWARD, clock.judge(65 * MS));
    assertEquals(Verdict.ACCEPTED, clock.judge(85 * MS));
  }

  /** The usual step is 20 ms, and 1/16 nearer to 36 ms after one of these: 21 ms. */
  @Test
  void theUsualStepFollowsSlowly() {
    runTo(1000 * MS);
    clock.judge(1036 * MS);
    clock.judge(0);
    clock.judge(MS);
    assertEquals(Verdict.ACCEPTED, clock.judge(2 * MS));
    assertEquals(1057 * MS, clock.nanos());
  }

  /** A gap counts as 10 s: 20 ms and 1/16 of (10000 - 20) ms are 643.75 ms. */
  @Test
  void aGapCountsAsTenSecondsInTheUsualStep() {
    runTo(1000 * MS);
    clock.judge(HOUR);
    clock.judge(HOUR + 1);
    clock.judge(HOUR + 2);
    clock.judge(0);
    clock.judge(1);
    assertEquals(Verdict.ACCEPTED, clock.judge(2));
    assertEquals(HOUR + 2 + 643_750_000L, clock.nanos());
  }

  @Test
  void aClockThatStandsStillAgesFromTheSeventeenthRefusalOn() {
    runTo(1000 * MS);
    for (int i = 0; i < 16; i++) {
      assertEquals(Verdict.TIME_REPEATED, clock.judge(1000 * MS));
    }
    assertFalse(clock.standsStill());
    assertEquals(1000 * MS, clock.nanos());
    assertEquals(Verdict.TIME_REPEATED, clock.judge(1000 * MS));
    assertTrue(clock.standsStill());
    assertEquals(1340 * MS, clock.nanos(), "all seventeen of them");
    assertEquals(340 * MS, clock.shiftNanos());
    assertEquals(Verdict.TIME_REPEATED, clock.judge(1000 * MS));
    assertEquals(1360 * MS, clock.nanos());
    assertEquals(360 * MS, clock.shiftNanos());
    assertEquals(Verdict.ACCEPTED, clock.judge(1020 * MS));
    assertEquals(1380 * MS, clock.nanos());
    assertFalse(clock.standsStill());
  }

  /** Fifty samples a second, stamped in whole seconds: a second has a second. */
  @Test
  void stampsInWholeSecondsDoNotStretchTime() {
    for (long second = 0; second < 20; second++) {
      for (int i = 0; i < 50; i++) {
        assertEquals(
            i == 0 ? Verdict.ACCEPTED : Verdict.TIME_REPEATED, clock.judge(second * 1000 * MS));
      }
      if (second > 0) {
        assertEquals(second * 1000 * MS + 980 * MS, clock.nanos(), "49 repeats of 20 ms");
      }
    }
    assertEquals(Verdict.ACCEPTED, clock.judge(20_000 * MS));
    assertEquals(20_000 * MS, clock.nanos());
    assertEquals(0, clock.shiftNanos());
  }

  /** A clock that was not read for 3 s, in which 150 samples count 20 ms each. */
  @Test
  void aClockThatWasOnlyHeldCatchesUp() {
    runTo(1000 * MS);
    for (int i = 0; i < 150; i++) {
      clock.judge(1000 * MS);
    }
    assertEquals(4000 * MS, clock.nanos());
    assertEquals(Verdict.ACCEPTED, clock.judge(4020 * MS));
    assertEquals(4020 * MS, clock.nanos());
    assertEquals(0, clock.shiftNanos());
  }

  /** A step of 12 s is far ahead, so that two more stamps must agree. */
  @Test
  void aClockThatWasHeldForLongCatchesUpOnceConfirmed() {
    runTo(1000 * MS);
    for (int i = 0; i < 600; i++) {
      clock.judge(1000 * MS);
    }
    assertEquals(Verdict.TIME_AHEAD, clock.judge(13_020 * MS));
    assertEquals(Verdict.TIME_AHEAD, clock.judge(13_040 * MS));
    assertEquals(Verdict.ACCEPTED, clock.judge(13_060 * MS));
    assertEquals(13_060 * MS, clock.nanos());
    assertEquals(0, clock.shiftNanos());
  }

  /** Commands have been given in between, at the later times. */
  @Test
  void aReadingThatCatchesUpKeepsTheTimeThatWasAdded() {
    runTo(1000 * MS);
    for (int i = 0; i < 150; i++) {
      clock.judgeReading(1000 * MS);
    }
    assertEquals(Verdict.ACCEPTED, clock.judgeReading(4020 * MS));
    assertEquals(7020 * MS, clock.nanos());
    assertEquals(3000 * MS, clock.shiftNanos());
  }

  @Test
  void straysAheadAgeTheReadingButDoNotShiftTheClock() {
    runTo(1000 * MS);
    for (int i = 0; i < 18; i++) {
      assertEquals(Verdict.TIME_AHEAD, clock.judge(HOUR - i));
    }
    assertEquals(1360 * MS, clock.nanos());
    assertEquals(0, clock.shiftNanos());
    assertEquals(Verdict.ACCEPTED, clock.judge(1380 * MS));
    assertEquals(1380 * MS, clock.nanos());
  }

  @Test
  void resetEqualsNew() {
    runTo(1000 * MS);
    for (int i = 0; i < 18; i++) {
      clock.judge(1000 * MS);
    }
    clock.reset();
    assertFalse(clock.standsStill());
    assertEquals(0, clock.nanos());
    assertEquals(0, clock.shiftNanos());
    aClockOfOneSampleGoesOnByANanosecond();
  }

  @ParameterizedTest
  @EnumSource(Verdict.class)
  void threeVerdictsAreOfTimeAndAllAreInWords(Verdict verdict) {
    assertEquals(verdict.name().startsWith("TIME_"), verdict.ofTime());
    assertEquals(verdict.ordinal() > 1, verdict.refused());
    assertTrue(verdict.words().matches("[a-z0-9: ,]+"), verdict.words());
  }
}
