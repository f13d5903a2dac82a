package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** A filter whose innovations stay far above their variances is given up. */
class ConsistencyWatchTest {

  private static final double STEP = 0.02;
  private static final double LARGEST = 30;
  private static final double LIMIT = 8;

  private final ConsistencyWatch watch = new ConsistencyWatch();

  /** Seconds of an innovation until the filter is given up, at most a minute. */
  private double secondsUntil(double innovation) {
    for (int i = 1; i <= 60 / STEP; i++) {
      if (watch.follow(STEP, innovation)) {
        return i * STEP;
      }
    }
    return Double.POSITIVE_INFINITY;
  }

  /** A first-order lag of 3 s from 2 reaches 8 after 3 s times ln((x - 2) / (x - 8)). */
  @Test
  void innovationsAboveTheLimitForTenSecondsGiveTheFilterUp() {
    for (double innovation : new double[] {10, 20, 29}) {
      double rise = 3 * Math.log((innovation - 2) / (innovation - LIMIT));
      assertEquals(rise + 10, secondsUntil(innovation), 0.06, "innovation " + innovation);
    }
  }

  @Test
  void largerInnovationsCountAsThirty() {
    assertEquals(secondsUntil(LARGEST), secondsUntil(1e9), 1e-9);
  }

  @Test
  void innovationsAtTheLimitNeverDo() {
    assertEquals(Double.POSITIVE_INFINITY, secondsUntil(LIMIT));
  }

  /** Mean 30 for 5 s, then 2 until the mean is below 8 again: nothing is left of the 5 s. */
  @Test
  void theTimeStartsOverOnceTheMeanIsBelowTheLimit() {
    for (int i = 0; i < 5 / STEP; i++) {
      assertFalse(watch.follow(STEP, LARGEST));
    }
    for (int i = 0; i < 5 / STEP; i++) {
      assertFalse(watch.follow(STEP, 2));
    }
    assertEquals(10, secondsUntil(LARGEST), 1);
  }

  /** A sample after a gap counts as half a second: a restart in flight is not given up at once. */
  @Test
  void aGapIsNoEvidence() {
    ConsistencyWatch halves = new ConsistencyWatch();
    int samples = 0;
    do {
      samples++;
    } while (!halves.follow(0.5, LARGEST));
    for (int i = 1; i < samples; i++) {
      assertFalse(watch.follow(10, LARGEST), "sample " + i);
    }
    assertTrue(watch.follow(10, LARGEST));
    // (30 - 2) (5/6)^n is below 22 from the second sample on, and 10 s are exceeded 20 samples
    // later
    assertEquals(22, samples);
  }
}
