package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.timing.TimeModel;

/** Steps of the readings that are taken back after some seconds. */
class ExcursionWatchTest {

  private static final double STEP = 0.02;
  private static final double CALM = 1;
  private static final double LEAST = 100;
  private static final double LARGE = 101;

  private final ExcursionWatch watch = new ExcursionWatch();

  /** Feeds calm samples; returns whether one of them was judged as a return. */
  private boolean calm(double seconds) {
    boolean judged = false;
    for (int i = 0; i < Math.round(seconds / STEP); i++) {
      judged |= watch.follow(STEP, CALM);
    }
    return judged;
  }

  @Test
  void aStepAndAStepBackAreJudgedOnceTheReadingsHaveSettled() {
    assertFalse(calm(10));
    assertFalse(watch.stepped());
    assertFalse(watch.follow(STEP, LARGE));
    assertTrue(watch.stepped());
    assertFalse(calm(5), "no return yet");
    assertFalse(watch.follow(STEP, LARGE));
    assertFalse(calm(0.4), "not settled");
    assertTrue(calm(0.2));
    assertFalse(calm(3), "once only");
  }

  @Test
  void aStepOfTenSigmasOrLessIsNone() {
    assertFalse(watch.follow(STEP, LEAST));
    assertFalse(watch.stepped());
    assertFalse(watch.settled());
  }

  @Test
  void stepsInImmediateSuccessionAreOne() {
    for (int i = 0; i < 15; i++) {
      assertFalse(watch.follow(STEP, LARGE));
    }
    assertFalse(calm(5));
    assertTrue(watch.settled());
  }

  @Test
  void anExcursionEndsByItselfAfterQuarterOfAMinute() {
    watch.follow(STEP, LARGE);
    calm(14.9);
    assertTrue(watch.stepped());
    calm(0.2);
    assertFalse(watch.stepped());
    watch.follow(STEP, LARGE);
    assertFalse(calm(5), "a first step again");
  }

  @Test
  void readingsThatDoNotSettleAreJudgedAfterTwoSeconds() {
    watch.follow(STEP, LARGE);
    calm(5);
    int samples = 0;
    while (!watch.follow(STEP, LARGE)) {
      samples++;
    }
    assertEquals(2 / STEP, samples, 1.5);
    assertTrue(watch.unsettled());
    calm(0.4);
    assertTrue(watch.unsettled());
    calm(0.2);
    assertFalse(watch.unsettled());
  }

  @Test
  void aFirstStepHasSettledAfterHalfASecond() {
    watch.follow(STEP, LARGE);
    calm(0.4);
    assertFalse(watch.settled());
    calm(0.2);
    assertTrue(watch.settled());
    watch.reset();
    assertFalse(watch.stepped());
    assertFalse(watch.settled());
  }

  /** After seconds of a wrong scale the estimate is that of an undisturbed one within 5 %. */
  @ParameterizedTest
  @CsvSource({"1.2, 0.7, 4", "1.1, 1.4, 6", "0.8, 1.6, 3"})
  void anEstimateLearnedFromAWrongScaleIsUndone(double volts, double amps, double seconds) {
    MarginEstimator disturbed = new MarginEstimator(TestCraft.SETTINGS);
    MarginEstimator undisturbed = new MarginEstimator(TestCraft.SETTINGS);
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    MarginReading out = new MarginReading();
    MarginReading expected = new MarginReading();
    double end = 20 + seconds;
    double during = 0;
    while (flight.seconds < end + 3) {
      flight.next();
      boolean wrong = flight.seconds > 20 && flight.seconds < end;
      undisturbed.update(
          STEP, flight.busVolts, flight.busAmps, flight.throttle, Double.NaN, expected);
      disturbed.update(
          STEP,
          flight.busVolts * (wrong ? volts : 1),
          flight.busAmps * (wrong ? amps : 1),
          flight.throttle,
          Double.NaN,
          out);
      during = wrong ? out.availableWatts() / expected.availableWatts() : during;
    }
    assertNotEquals(1, during, 0.1, "what was learned during the wrong scale");
    assertEquals(1, out.availableWatts() / expected.availableWatts(), 0.05);
    assertEquals(TimingStatus.STATED, disturbed.timingStatus());
  }

  /** A step before any state was saved reinitialises the estimate. */
  @Test
  void aStepInTheFirstSecondsStartsTheEstimateOver() {
    MarginEstimator estimator =
        new MarginEstimator(TestCraft.SETTINGS.withTiming(TimeModel.SIMULTANEOUS));
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    MarginReading out = new MarginReading();
    boolean warming = false;
    while (flight.seconds < 20) {
      flight.next();
      double scale = flight.seconds < 5 ? 1.2 : 1;
      estimator.update(
          STEP, scale * flight.busVolts, flight.busAmps, flight.throttle, Double.NaN, out);
      warming |= flight.seconds > 5.5 && out.status() == Status.WARMING_UP;
    }
    assertTrue(warming);
    assertEquals(flight.availableWatts, out.availableWatts(), 0.05 * flight.availableWatts);
  }
}
