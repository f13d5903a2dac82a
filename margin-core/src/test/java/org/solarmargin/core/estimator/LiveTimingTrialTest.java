package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/**
 * When a stated time model is rejected, tried again and accepted. The filter takes no sample here,
 * so that both innovations are always 1. A throttle that rises steadily has a correlation of one
 * with them, and one that alternates about a constant has none. Times are multiples of 1/8 s, which
 * add without a rounding error.
 */
class LiveTimingTrialTest {

  private static final double STEP = 0.125;

  /** Squared innovations over their variance above 400 are a step of the readings. */
  private static final double JUST_NO_STEP = 400;

  private static final double STEP_OF_READINGS = Math.nextUp(400.0);

  private static final TimeModel STATED =
      new TimeModel(
          new ChannelTiming(0.25, 0, 0, 0),
          new ChannelTiming(0.0625, 0, 0, 0),
          0,
          0,
          true,
          TimeModel.Source.STATED);

  private final HiddenStateFilter filter =
      new HiddenStateFilter(TestCraft.SETTINGS, TestCraft.SETTINGS.newArray());
  private final Sample sample = new Sample();
  private LiveTiming timing = new LiveTiming(STATED, null);
  private double throttle = 0.5;

  private boolean correlated() {
    throttle += 0.001;
    return follow(true);
  }

  private boolean uncorrelated() {
    throttle = throttle > 0.5 ? 0.49 : 0.51;
    return follow(true);
  }

  private boolean follow(boolean settled) {
    sample.throttle = throttle;
    return timing.follow(STEP, settled, sample, filter);
  }

  /**
   * The first sample only gives the throttle. The correlation is available 6 s or 48 samples later.
   * It is 1, and its limit at this step 0.435: its relative excess, 1.3, adds up to 3 s in 2.3 s or
   * 19 samples, the first included: 1 + 47 + 19 samples.
   */
  private void reject() {
    for (int i = 0; i < 66; i++) {
      assertFalse(correlated(), "sample " + i);
    }
    assertTrue(correlated());
    assertEquals(TimingStatus.LEFT_OUT, timing.status());
    assertFalse(timing.onTrial());
    assertFalse(timing.model().throttleUsed());
  }

  /** Waits for a trial, whose first sample uses the stated model again. */
  private void awaitTrial(double seconds) {
    for (int i = 1; i < seconds / STEP; i++) {
      assertFalse(correlated());
      assertFalse(timing.onTrial());
    }
    assertTrue(correlated(), "trial after " + seconds + " s");
    assertTrue(timing.onTrial());
    assertSame(STATED, timing.model());
    assertEquals(TimingStatus.LEFT_OUT, timing.status(), "until it has passed");
  }

  @Test
  void onlyAStatedModelStaysValidBetweenVoltageAndCurrent() {
    reject();
    assertEquals(STATED.withoutThrottle(), timing.model());
    TimeModel found =
        new TimeModel(STATED.volts(), STATED.amps(), 0, 0, true, TimeModel.Source.FOUND);
    timing = new LiveTiming(found, null);
    throttle = 0.5;
    reject();
    assertSame(TimeModel.UNKNOWN, timing.model());
  }

  private void assertNeverTried() {
    for (int i = 0; i < 320 / STEP; i++) {
      assertFalse(correlated());
    }
    assertFalse(timing.onTrial());
    assertEquals(TimingStatus.LEFT_OUT, timing.status());
  }

  @Test
  void aModelThatExplainsTheThrottleIsKept() {
    timing.reading(STEP, 0, 0.5, 29, 3);
    for (int i = 0; i < 400; i++) {
      assertFalse(uncorrelated());
      assertFalse(timing.onTrial());
    }
    assertEquals(TimingStatus.STATED, timing.status());
    assertSame(STATED, timing.model());
  }

  @Test
  void anotherOneIsRejectedWithTheThrottle() {
    reject();
    // the filter that both have in common, 1/16 s, cannot be known without the throttle
    assertEquals(0.1875, timing.model().volts().filterSeconds());
    assertEquals(0, timing.model().amps().filterSeconds());
  }

  @Test
  void onlyWhileSettled() {
    for (int i = 0; i < 100; i++) {
      throttle += 0.001;
      assertFalse(follow(false));
    }
    reject();
  }

  @Test
  void withoutAStepOfTheReadingsItIsNotTriedAgain() {
    timing.outlier(JUST_NO_STEP);
    reject();
    assertNeverTried();
  }

  @Test
  void afterAStepItIsTriedAgain() {
    timing.outlier(STEP_OF_READINGS);
    reject();
    awaitTrial(8);
  }

  /** 15 s are 120 samples, of which the rejection takes 67. */
  @Test
  void theStepMustHaveBeenWithinFifteenSeconds() {
    timing.outlier(STEP_OF_READINGS);
    for (int i = 0; i < 52; i++) {
      follow(false);
    }
    reject();
    awaitTrial(8);
    timing.reset();
    timing.outlier(STEP_OF_READINGS);
    for (int i = 0; i < 53; i++) {
      follow(false);
    }
    reject();
    assertNeverTried();
  }

  /** A trial that fails is followed by another, after twice the time, at most five minutes. */
  @Test
  void theTimeBetweenTrialsDoubles() {
    timing.outlier(STEP_OF_READINGS);
    reject();
    for (double seconds : new double[] {8, 16, 32, 64, 128, 256, 300, 300}) {
      awaitTrial(seconds);
      reject();
    }
  }

  /** It passes after more than 10 s without a rejection: the 81st sample. */
  @Test
  void aTrialThatPassesRestoresTheModel() {
    timing.outlier(STEP_OF_READINGS);
    reject();
    awaitTrial(8);
    for (int i = 0; i < 80; i++) {
      assertFalse(uncorrelated());
      assertTrue(timing.onTrial());
      assertEquals(TimingStatus.LEFT_OUT, timing.status());
    }
    assertFalse(uncorrelated());
    assertFalse(timing.onTrial());
    assertEquals(TimingStatus.STATED, timing.status());
    assertSame(STATED, timing.model());
    // a later rejection has no step that may have caused it
    timing.disturbed();
    reject();
    assertNeverTried();
  }

  @Test
  void implausibleReadingsDiscardTheEvidence() {
    for (int i = 0; i < 50; i++) {
      correlated();
    }
    timing.disturbed();
    reject();
  }

  @Test
  void aResetForgetsEvidenceStepAndWaits() {
    for (int i = 0; i < 50; i++) {
      correlated();
    }
    timing.outlier(STEP_OF_READINGS);
    timing.reset();
    reject();
    assertNeverTried();
    timing.reset();
    assertEquals(TimingStatus.STATED, timing.status());
    assertSame(STATED, timing.model());
    timing.outlier(STEP_OF_READINGS);
    reject();
    awaitTrial(8);
    reject();
    awaitTrial(16);
    timing.reset();
    assertFalse(timing.onTrial());
    timing.outlier(STEP_OF_READINGS);
    reject();
    awaitTrial(8);
  }
}
