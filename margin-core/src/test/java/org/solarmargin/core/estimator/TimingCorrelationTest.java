package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.align.Sample;

/** Squared correlation of innovations with the throttle's moves, against what it must be. */
class TimingCorrelationTest {

  private static final double STEP = 0.02;
  private static final double NONE = Double.NaN;
  private final TimingWatch watch = new TimingWatch();
  private final Random random = new Random(1);
  private double fast = 0.5;
  private double middle = 0.5;

  /** Throttle at random; what the innovations are of its quick and slow part and of themselves. */
  private void fly(double seconds, double[] volts, double[] amps) {
    watch.follow(STEP, 0.5, NONE, NONE);
    for (int i = 0; i < seconds / STEP; i++) {
      double throttle = 0.5 + 0.05 * random.nextGaussian();
      fast += (1 - Math.exp(-STEP / 0.08)) * (throttle - fast);
      middle += (1 - Math.exp(-STEP / 0.3)) * (fast - middle);
      watch.follow(STEP, throttle, reading(volts, throttle), reading(amps, throttle));
    }
  }

  private double reading(double[] of, double throttle) {
    return of == null
        ? NONE
        : of[0] * (throttle - fast) + of[1] * (fast - middle) + of[2] * random.nextGaussian();
  }

  @Test
  void whatFollowsTheThrottleHasACorrelationOfOne() {
    for (int part = 0; part < 2; part++) {
      for (int channel = 0; channel < 2; channel++) {
        for (double sign : new double[] {-1, 1}) {
          watch.reset();
          fast = 0.5;
          middle = 0.5;
          double[] follows = {0, 0, 0};
          follows[part] = 3 * sign;
          double[] noise = {0, 0, 1};
          fly(12, channel == 0 ? follows : noise, channel == 1 ? follows : noise);
          assertEquals(1, watch.correlation(), 1e-9, part + " " + channel);
          assertTrue(watch.disagrees());
        }
      }
    }
  }

  @Test
  void whatDoesNotHasHardlyAny() {
    fly(30, new double[] {0, 0, 1}, new double[] {0, 0, 1});
    assertTrue(watch.correlation() < 0.06, "correlation " + watch.correlation());
    assertFalse(watch.disagrees());
    watch.reset();
    fly(30, null, null);
    assertEquals(0, watch.correlation(), "nothing was read");
    watch.reset();
    fly(30, new double[] {0, 0, 0}, null);
    assertEquals(0, watch.correlation(), "nothing has moved");
  }

  /** A quick part of sigma q in white noise of sigma 1: q q / (q q + 1) on the mean. */
  @Test
  void thePartThatFollowsIsTheSquareOfTheCorrelation() {
    double sum = 0;
    for (int i = 0; i < 40; i++) {
      watch.reset();
      fast = 0.5;
      middle = 0.5;
      // the quick part of white noise of 0.05 has 0.05 keep sqrt(1 + share / (1 + keep)) V
      double keep = Math.exp(-STEP / 0.08);
      double quick = 0.05 * keep * Math.sqrt(1 + (1 - keep) / (1 + keep));
      fly(30, new double[] {1 / quick, 0, 1}, null);
      sum += watch.correlation();
    }
    assertEquals(0.5, sum / 40, 0.05);
  }

  @Test
  void itCanBeToldAfterSixSecondsAndItsExcessAddsUp() {
    double[] follows = {3, 0, 0};
    fly(5.98, follows, null);
    assertEquals(0, watch.correlation());
    // the limit at this step
    double limit = 0.06 * (1 + 0.4 * 0.4);
    watch.follow(STEP, 0.6, 0.3, NONE);
    double excess = Math.max(STEP * (watch.correlation() / limit - 1), 0);
    watch.follow(STEP, 0.4, -0.3, NONE);
    assertTrue(watch.correlation() > 0.9);
    excess += STEP * (watch.correlation() / limit - 1);
    while (excess < 3) {
      assertFalse(watch.disagrees());
      watch.follow(STEP, 0.5, 0, NONE);
      excess += STEP * (watch.correlation() / limit - 1);
    }
    assertTrue(watch.disagrees());
    for (int i = 0; i < 5000; i++) {
      watch.follow(STEP, 0.5 + 0.05 * random.nextGaussian(), random.nextGaussian(), NONE);
    }
    assertFalse(watch.disagrees(), "what is below the limit counts against it");
    watch.reset();
    assertFalse(watch.disagrees());
    assertEquals(0, watch.correlation());
  }

  /** Steps of 0.2 s are four times the slow ones: 0.06 x 17 is more than any correlation. */
  @Test
  void slowSamplesNeedMore() {
    for (int i = 0; i < 100; i++) {
      double throttle = 0.5 + 0.05 * random.nextGaussian();
      watch.follow(0.2, throttle, throttle - 0.5, throttle - 0.5);
    }
    assertTrue(watch.correlation() > 0.5);
    assertFalse(watch.disagrees());
  }

  /** Beyond five sigmas an innovation counts as five. */
  @Test
  void outliersAreBounded() {
    TimingWatch bounded = new TimingWatch();
    for (int i = 0; i < 500; i++) {
      double throttle = 0.5 + 0.05 * random.nextGaussian();
      double volts = random.nextGaussian();
      double amps = random.nextGaussian();
      boolean far = i % 40 == 7;
      watch.follow(STEP, throttle, far ? 70 : volts, far ? -70 : amps);
      bounded.follow(STEP, throttle, far ? 5 : volts, far ? -5 : amps);
    }
    assertEquals(bounded.correlation(), watch.correlation());
  }

  /**
   * Steps of 1/8 s add without a rounding error: 48 to 6 s, and 19 in which the relative excess of
   * a correlation of 1 over the limit of 0.435 adds up to 3 s.
   */
  @Test
  void sixSecondsAndTheExcessAreEnough() {
    watch.follow(0.125, 0.5, 1, NONE);
    for (int i = 1; i < 67; i++) {
      assertEquals(i > 48, watch.correlation() > 0.5, "before sample " + i);
      assertFalse(watch.disagrees());
      watch.follow(0.125, 0.5 + 0.001 * i, 1, NONE);
    }
    assertTrue(watch.disagrees());
  }

  @Test
  void aThrottleThatStandsStillHasNone() {
    for (int i = 0; i < 500; i++) {
      watch.follow(STEP, 0.5, 1, -1);
    }
    assertEquals(0, watch.correlation());
  }

  /** A filter without samples has innovations of 1, with which a rising throttle is correlated. */
  @Test
  void innovationsOfAbsentReadingsAreNotUsed() {
    HiddenStateFilter filter =
        new HiddenStateFilter(TestCraft.SETTINGS, TestCraft.SETTINGS.newArray());
    Sample sample = new Sample();
    for (int which = 0; which < 4; which++) {
      watch.reset();
      sample.hasVolts = which % 2 > 0;
      sample.hasAmps = which / 2 > 0;
      for (int i = 0; i < 500; i++) {
        sample.throttle = 0.001 * i;
        watch.follow(STEP, sample, filter);
      }
      assertEquals(which > 0 ? 1 : 0, watch.correlation(), 0.1);
    }
  }
}
