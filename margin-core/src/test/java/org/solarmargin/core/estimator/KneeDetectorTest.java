package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** Against the exact answer of two first-order lags to a step, exp(-t/0.6) - exp(-t/0.08). */
class KneeDetectorTest {

  private static final double STEP = 0.01;
  private final KneeDetector detector = new KneeDetector();

  /** Part of a step that shows between the fast and the slow lag. */
  private static double part(double seconds) {
    return Math.exp(-seconds / 0.6) - Math.exp(-seconds / 0.08);
  }

  /** Steps of throttle and of the power's logarithm at time 0, for a second and a half. */
  private int seenAfter(double throttleStep, double logPowerStep) {
    detector.reset();
    detector.update(STEP, 0.5, 100);
    double lasted = 0;
    int seen = 0;
    for (int i = 1; i <= 150; i++) {
      detector.update(STEP, 0.5 + throttleStep, 100 * Math.exp(logPowerStep));
      double now = part(i * STEP);
      boolean wrongWay = throttleStep * now > 0.03 && -logPowerStep * now > 0.08;
      lasted = wrongWay ? lasted + STEP : 0;
      assertEquals(lasted >= 0.15, detector.detected(), "at step " + i);
      seen += detector.detected() ? 1 : 0;
    }
    return seen;
  }

  @Test
  void throttleUpAndPowerDownIsSeenWhileItLasts() {
    assertTrue(seenAfter(0.1, -0.2) > 10);
    assertTrue(seenAfter(0.06, -0.5) > 10, "the throttle is the weaker one");
  }

  @Test
  void anythingElseIsNot() {
    assertEquals(0, seenAfter(0.1, 0.2), "both up");
    assertEquals(0, seenAfter(-0.1, -0.2), "both down");
    assertEquals(0, seenAfter(-0.1, 0.2));
    assertEquals(0, seenAfter(0.04, -0.5), "too little throttle");
    assertEquals(0, seenAfter(0.3, -0.11), "too little power");
  }

  @Test
  void noPowerIsPowerDown() {
    detector.update(STEP, 0.5, 100);
    for (int i = 0; i < 25; i++) {
      detector.update(STEP, 0.7, 0);
    }
    assertTrue(detector.detected());
  }

  @Test
  void aGapOfMoreThanTheSlowLagStartsAnew() {
    for (double gap : new double[] {0.6, 0.61}) {
      detector.reset();
      assertFalse(detector.detected());
      detector.update(STEP, 0.5, 100);
      detector.update(gap, 0.9, 20);
      assertEquals(gap == 0.6, detector.detected(), "after " + gap + " s");
    }
    detector.update(STEP, 0.9, 20);
    assertFalse(detector.detected());
  }
}
