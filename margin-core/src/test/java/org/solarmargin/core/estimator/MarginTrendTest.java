package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** On a ramp each lag stands its time constant behind; half a step of 20 ms more or less. */
class MarginTrendTest {

  private static final double STEP = 0.02;
  private static final double NEVER = Double.POSITIVE_INFINITY;
  private final MarginTrend trend = new MarginTrend();

  private void ramp(double seconds, double start, double perSecond, double demand) {
    trend.reset();
    for (int i = 0; i * STEP <= seconds; i++) {
      trend.update(STEP, start + perSecond * i * STEP, demand);
    }
  }

  @Test
  void aRampIsExtendedFromTheFastLag() {
    ramp(20, 200, -4, 100);
    // the fast lag stands at 200 - 4 (20 - 0.7) = 122.8 W, less half a step
    assertEquals(22.8 / 4, trend.secondsToZero(), 0.02);
    ramp(20, 200, -4, 110);
    assertEquals(12.8 / 4, trend.secondsToZero(), 0.02);
    ramp(20, 200, -4, 130);
    assertEquals(0, trend.secondsToZero(), "it is gone already");
  }

  @Test
  void riseAndRestAreNoTrend() {
    ramp(20, 100, 4, 50);
    assertEquals(NEVER, trend.secondsToZero());
    ramp(20, 100, 0, 50);
    assertEquals(NEVER, trend.secondsToZero());
  }

  /** 0.2 % of the bound itself in a second. */
  @Test
  void aSlowFallIsNoTrend() {
    ramp(20, 100, -0.18, 50);
    assertEquals(NEVER, trend.secondsToZero());
    ramp(20, 100, -0.22, 50);
    assertEquals((100 - 0.22 * 19.3 - 50) / 0.22, trend.secondsToZero(), 0.5);
  }

  @Test
  void aTrendNeedsTwoAndAHalfSeconds() {
    assertEquals(NEVER, trend.secondsToZero());
    trend.update(0.5, 100, 50);
    for (int i = 1; i <= 4; i++) {
      trend.update(0.5, 100 - 10 * i, 50);
      assertEquals(NEVER, trend.secondsToZero(), "after " + 0.5 * i);
    }
    trend.update(0.5, 50, 50);
    double seconds = trend.secondsToZero();
    // exact answers of the lags to the steps of 10 W
    double fast = 100;
    double slow = 100;
    for (int i = 1; i <= 5; i++) {
      fast += (1 - Math.exp(-0.5 / 0.7)) * (100 - 10 * i - fast);
      slow += (1 - Math.exp(-0.5 / 2.5)) * (100 - 10 * i - slow);
    }
    assertEquals((fast - 50) / ((slow - fast) / 1.8), seconds, 1e-9);
  }

  @Test
  void aGapStartsAnew() {
    for (double gap : new double[] {2.5, 2.6}) {
      ramp(20, 200, -4, 100);
      trend.update(gap, 110, 100);
      assertEquals(gap == 2.5, trend.secondsToZero() < NEVER, "after " + gap + " s");
    }
  }

  /** A step of the demand by 40 W comes through the slow lag: 1 - exp(-1/2.5) of it in a second. */
  @Test
  void demandIsSmoothed() {
    ramp(20, 200, -4, 100);
    for (int i = 1; i <= 50; i++) {
      trend.update(STEP, 120 - 4 * i * STEP, 140);
    }
    double demand = 100 + 40 * (1 - Math.exp(-1 / 2.5));
    assertEquals(Math.max((116 + 4 * 0.7 - demand) / 4, 0), trend.secondsToZero(), 0.02);
  }
}
