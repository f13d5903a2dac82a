package org.solarmargin.core.gate;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/**
 * When a repeated reading is old, due, coarse or frozen: samples every 20 ms, means worked out by
 * hand.
 */
class RepeatDetectorTest {

  private static final long STEP = 20_000_000L;
  private RepeatDetector rhythm = new RepeatDetector(0);
  private long nanos = 5_000_000_000L;
  private double value = 29;
  private double other = 3;

  private void take(double now, double otherNow, double throttle) {
    nanos += STEP;
    rhythm.take(nanos, now, otherNow, throttle);
  }

  /** A run of equal readings that starts with a step up, or down where it is negative. */
  private void run(int samples, double move) {
    run(samples, move, 0);
  }

  private void run(int samples, double move, double throttleSpan) {
    value += move;
    for (int i = 0; i < samples; i++) {
      take(value, other, 0.5 + (i == 1 ? throttleSpan : 0));
    }
  }

  /** Repeats until the reading counts as frozen; the throttle moves by a share at the first. */
  private double secondsToFrozen(double throttleMove) {
    take(value + 1, other, 0.5);
    long since = nanos;
    for (int i = 0; i < 400 && !rhythm.frozen(); i++) {
      take(value + 1, other, 0.5 + throttleMove);
    }
    return rhythm.frozen() ? (nanos - since) * 1e-9 : Double.NaN;
  }

  @Test
  void aFirstReadingOfZeroIsNew() {
    rhythm.take(nanos, 0, 1, 0.5);
    assertTrue(rhythm.changed());
    rhythm.take(nanos + STEP, 0, 1, 0.5);
    assertFalse(rhythm.changed());
    rhythm.reset();
    rhythm.take(nanos + 2 * STEP, 0, 1, 0.5);
    assertTrue(rhythm.changed());
  }

  @Test
  void aFourthRepeatOrALongFirstRunIsNoReading() {
    run(4, 0.1);
    assertFalse(rhythm.held(), "equal by chance");
    run(2, 0.1);
    assertTrue(rhythm.held(), "4 samples a run");
    rhythm.reset();
    assertFalse(rhythm.held());
    run(5, 0.1);
    assertTrue(rhythm.held(), "repeated four times");
    rhythm.reset();
    run(2, 0.1);
    run(2, 0.1);
    assertFalse(rhythm.held(), "2 samples a run");
  }

  @Test
  void aStatedIntervalIsKnownFromTheStart() {
    rhythm = new RepeatDetector(0.1);
    run(2, 0.1);
    assertTrue(rhythm.held());
  }

  /** Runs of 4, 2, 2, 1: mean 2.25. */
  @Test
  void aRhythmIsKnownFromItsFourthRunOn() {
    for (int samples : new int[] {4, 2, 2}) {
      run(samples, 0.1);
      assertTrue(samples == 4 || rhythm.held(), "2.67 samples a run or more");
    }
    run(1, 0.1);
    run(5, 0.1);
    assertFalse(rhythm.held(), "known to be 2.25 samples a run, repeated four times");
  }

  @Test
  void aChannelIsHeldFromTwoAndAHalfSamplesOn() {
    for (int samples : new int[] {2, 3, 2, 3, 1}) {
      run(samples, 0.1);
    }
    assertTrue(rhythm.held(), "2.5 samples a run");
    rhythm = new RepeatDetector(0);
    for (int samples : new int[] {2, 3, 2, 2, 1}) {
      run(samples, 0.1);
    }
    assertFalse(rhythm.held(), "2.25 samples a run");
  }

  private int samplesToDue() {
    int samples = 0;
    while (!rhythm.due() && samples < 100) {
      take(value, other, 0.5);
      samples++;
    }
    return samples;
  }

  /** Runs of 10, 10, 10, 10, 2: mean 8.4, due after 6.72 more samples. */
  @Test
  void firstRunsAreAveragedAlike() {
    for (int samples : new int[] {10, 10, 10, 10, 2}) {
      run(samples, 0.1);
    }
    run(1, 0.1);
    assertEquals(7, samplesToDue());
  }

  /** Eight runs of 8 and one of 16: 8 + 8/8 = 9, due after 7.2 more samples. */
  @Test
  void laterRunsCountAnEighth() {
    for (int i = 0; i < 8; i++) {
      run(8, 0.1);
    }
    run(16, 0.1);
    run(1, 0.1);
    assertEquals(8, samplesToDue());
  }

  @Test
  void anEqualReadingIsDueAfterFourFifthsOfAUsualRun() {
    for (int i = 0; i < 4; i++) {
      run(5, 0.1);
    }
    run(1, 0.1);
    assertEquals(4, samplesToDue());
  }

  @Test
  void anUnknownRhythmIsFrozenAfterTwelveTenthsOfASecond() {
    assertEquals(1.2, secondsToFrozen(0.02), 1e-9);
    run(3, 0.1);
    assertTrue(rhythm.frozen(), "the first change may be a stray");
    run(3, 0.1);
    assertFalse(rhythm.frozen());
  }

  @Test
  void threeRunsAreTooFewToKnowARhythm() {
    run(3, 0.1);
    run(3, 0.1);
    run(3, 0.1);
    assertEquals(1.2, secondsToFrozen(0.02), 1e-9, "the run before ends only with the change");
  }

  @Test
  void aStatedIntervalHoldsFromTheStart() {
    rhythm = new RepeatDetector(0.5);
    assertEquals(1.6, secondsToFrozen(0.02), 1e-9, "three intervals and 0.1 s");
  }

  /** Runs of 200 ms four times and of 400 ms: 240 ms on the mean; three of them and 0.1 s. */
  @Test
  void aKnownRhythmIsFrozenAfterThreeOfItsIntervals() {
    for (int samples : new int[] {10, 10, 10, 10, 20}) {
      run(samples, 0.1);
    }
    run(1, 0.1);
    double seconds = secondsToFrozen(0.02);
    // the run of one sample has gone into the mean: (5 x 240 + 20) / 6 ms
    assertEquals(Math.ceil((3 * 1220.0 / 6 + 100) / 20) * 0.02, seconds, 1e-9);
  }

  @Test
  void eightRepeatsAreNeededWhateverTheTime() {
    for (int i = 0; i < 5; i++) {
      run(1, 0.1);
    }
    assertEquals(0.16, secondsToFrozen(0.02), 1e-9, "three of 20 ms and 0.1 s");
  }

  @Test
  void aLoneChannelNeedsAThrottleMoveOfOneHundredth() {
    take(29, 3, 0);
    for (int i = 0; i < 80; i++) {
      take(29, 3, 0.0099);
    }
    assertFalse(rhythm.frozen());
    take(29, 3, 0.01);
    assertTrue(rhythm.frozen());
  }

  @Test
  void halfTheMoveIsEnoughWhereTheOtherChannelMovedEvenOnce() {
    take(29, 3, 0);
    take(29, 3.1, 0);
    for (int i = 0; i < 80; i++) {
      take(29, 3, 0.0049);
    }
    assertFalse(rhythm.frozen());
    take(29, 3, 0.005);
    assertTrue(rhythm.frozen());
  }

  @Test
  void theThrottleMayMoveDownToo() {
    take(29, 3, 0.5);
    take(29, 3, 0.495);
    for (int i = 0; i < 80; i++) {
      take(29, 3, 0.506);
    }
    assertTrue(rhythm.frozen(), "0.495 to 0.506");
  }

  private boolean coarseAfter(int[] runs, double[] moves) {
    rhythm = new RepeatDetector(0);
    value = 29;
    run(1, 1);
    rhythm.reset();
    for (int i = 0; i < runs.length; i++) {
      run(runs[i], i == 0 ? 0 : moves[i - 1]);
    }
    run(1, moves[runs.length - 1]);
    return rhythm.coarse();
  }

  private static final double[] EQUAL = {1, -1, 1, -1, 1};

  /** Variance over mean squared: 4/25 = 0.16, 9/64 = 0.14; 0.15 divides. */
  @Test
  void runsOfIrregularLengthAreCoarse() {
    assertTrue(coarseAfter(new int[] {3, 7, 3, 7}, EQUAL));
    assertFalse(coarseAfter(new int[] {5, 11, 5, 11}, EQUAL));
    assertFalse(coarseAfter(new int[] {3, 7, 3}, EQUAL), "three runs");
    // mean 4.2, mean of squares 23.4: 5.76 / 17.64 = 0.33
    assertTrue(coarseAfter(new int[] {3, 7, 3, 7, 1}, EQUAL));
    assertFalse(coarseAfter(new int[] {5, 5, 5, 5, 5}, EQUAL));
  }

  /** Usual move below two and a half of the least one. */
  @Test
  void movesOfHardlyMoreThanTheRoundingAreCoarse() {
    int[] runs = {3, 7, 3, 7};
    assertFalse(coarseAfter(runs, new double[] {1, -1, 1, 7}), "mean 2.5");
    assertTrue(coarseAfter(runs, new double[] {1, -1, 1, 6}), "mean 2.25");
    assertTrue(coarseAfter(runs, new double[] {6, -1, 1, 1}), "mean 2.25");
    assertFalse(coarseAfter(runs, new double[] {7, -1, -1, 1}), "mean 2.5");
    assertFalse(coarseAfter(runs, new double[] {-4, -4, 1, 1}), "mean 2.5");
  }

  @Test
  void aCoarseChannelIsNotHeld() {
    assertTrue(coarseAfter(new int[] {3, 7, 3, 7}, EQUAL));
    assertFalse(rhythm.held());
    assertFalse(coarseAfter(new int[] {5, 11, 5, 11}, EQUAL));
    assertTrue(rhythm.held());
  }

  /** Throttle spans in the runs: 0.01, 0.02, 0.01, 0.02, and 0 in the last: mean 0.012. */
  @Test
  void aCoarseChannelNeedsFiveUsualThrottleMoves() {
    for (double move : new double[] {0.0599, 0.0601}) {
      rhythm = new RepeatDetector(0);
      run(3, 1, 0.01);
      run(7, -1, 0.02);
      run(3, 1, 0.01);
      run(7, -1, 0.02);
      run(1, 1);
      assertTrue(rhythm.coarse());
      assertEquals(move > 0.06, secondsToFrozen(move) > 0, "move " + move);
    }
  }
}
