package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/**
 * Single outliers are not a burst at any rate; a burst ends once, seconds after its last outlier.
 */
class OutlierWatchTest {

  private final OutlierWatch watch = new OutlierWatch();

  private int ends(double hertz, double seconds, int outlierEvery) {
    int ends = 0;
    for (int i = 1; i <= seconds * hertz; i++) {
      ends += watch.follow(1 / hertz, outlierEvery > 0 && i % outlierEvery == 0) ? 1 : 0;
    }
    return ends;
  }

  @Test
  void sixOutliersInASecondAreNotABurst() {
    assertEquals(0, ends(50, 60, 8));
    assertFalse(watch.burst());
  }

  @Test
  void aSingleOutlierAtALowRateIsNotABurst() {
    assertEquals(0, ends(2, 600, 20));
    assertFalse(watch.burst());
  }

  @Test
  void aBurstEndsOnce() {
    assertTrue(watch.quiet());
    assertEquals(0, ends(50, 1, 2));
    assertTrue(watch.burst());
    assertFalse(watch.quiet());
    assertEquals(1, ends(50, 10, 0));
    assertFalse(watch.burst());
    assertTrue(watch.quiet());
  }

  @Test
  void aLastingBurstEndsAfterTenSeconds() {
    assertEquals(0, ends(50, 10, 4));
    assertTrue(watch.burst());
    assertEquals(1, ends(50, 1, 4), "counted from the outliers that began the burst");
    assertEquals(1, ends(50, 11, 4), "and again");
    watch.reset();
    assertFalse(watch.burst());
  }
}
