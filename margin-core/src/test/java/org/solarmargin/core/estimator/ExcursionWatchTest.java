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
  private static final double LEAST = 64;
  private static final double LARGE = 65;
  private static final double THROTTLE = 0.5;

  private final ExcursionWatch watch = new ExcursionWatch();

  private boolean next(double size) {
    return watch.follow(STEP, size, false, THROTTLE);
  }

  private void foreignStep() {
    watch.follow(STEP, CALM, true, THROTTLE);
  }

  /** Feeds calm samples; returns whether one of them was judged as a return. */
  private boolean calm(double seconds) {
    boolean judged = false;
    for (int i = 0; i < Math.round(seconds / STEP); i++) {
      judged |= next(CALM);
    }
    return judged;
  }

  @Test
  void aStepAndAStepBackAreJudgedOnceTheReadingsHaveSettled() {
    assertFalse(calm(10));
    assertFalse(watch.stepped());
    assertFalse(next(LARGE));
    assertTrue(watch.stepped());
    assertFalse(calm(5), "no return yet");
    assertFalse(next(LARGE));
    assertFalse(calm(0.4), "not settled");
    assertTrue(calm(0.2));
    assertFalse(calm(3), "once only");
  }

  @Test
  void aStepOfEightSigmasOrLessIsNone() {
    assertFalse(next(LEAST));
    assertFalse(watch.stepped());
    assertFalse(watch.settled());
  }

  @Test
  void stepsInImmediateSuccessionAreOne() {
    for (int i = 0; i < 15; i++) {
      assertFalse(next(LARGE));
    }
    assertFalse(calm(5));
    assertTrue(watch.settled());
  }

  @Test
  void anExcursionEndsByItselfAfterQuarterOfAMinute() {
    next(LARGE);
    calm(14.9);
    assertTrue(watch.stepped());
    calm(0.2);
    assertFalse(watch.stepped());
    next(LARGE);
    assertFalse(calm(5), "a first step again");
  }

  @Test
  void readingsThatDoNotSettleAreJudgedAfterTwoSeconds() {
    next(LARGE);
    calm(5);
    int samples = 0;
    while (!next(LARGE)) {
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
    next(LARGE);
    calm(0.4);
    assertFalse(watch.settled());
    calm(0.2);
    assertTrue(watch.settled());
    watch.reset();
    assertFalse(watch.stepped());
    assertFalse(watch.settled());
  }

  /** Seconds until the readings count as returned, with the same explanation of each sample. */
  private double secondsToReturn(boolean explains, double load, double throttle) {
    for (int i = 1; i <= 5 / STEP; i++) {
      next(CALM);
      if (watch.returned(STEP, explains, load, throttle)) {
        return i * STEP;
      }
    }
    return Double.POSITIVE_INFINITY;
  }

  @Test
  void aForeignStepOfAnySizeAwaitsItsReturn() {
    assertFalse(watch.awaitsReturn());
    next(LARGE);
    assertFalse(watch.awaitsReturn(), "a step along the load line");
    foreignStep();
    assertTrue(watch.awaitsReturn());
    assertEquals(0.5, secondsToReturn(true, 1, THROTTLE), 0.021);
    calm(15);
    assertFalse(watch.awaitsReturn());
  }

  @Test
  void readingsReturnAtTheSameLoadAndNoLessThrottleOnly() {
    foreignStep();
    assertEquals(Double.POSITIVE_INFINITY, secondsToReturn(false, 1, THROTTLE));
    assertEquals(Double.POSITIVE_INFINITY, secondsToReturn(true, 1, THROTTLE - 0.021));
    assertEquals(0.5, secondsToReturn(true, 1, THROTTLE - 0.019), 0.021);
  }

  /** Behind a lag of 0.5 s from 1, a ratio of 2 passes 1.3 after 0.5 s times ln(1 / 0.7). */
  @Test
  void theLoadIsComparedBehindALag() {
    foreignStep();
    for (int i = 0; i < 8; i++) {
      assertFalse(watch.returned(STEP, true, 2, THROTTLE), "sample " + i);
    }
    assertEquals(Double.POSITIVE_INFINITY, secondsToReturn(true, 2, THROTTLE));
    assertEquals(Double.POSITIVE_INFINITY, secondsToReturn(true, 1.31, THROTTLE));
    assertTrue(secondsToReturn(true, 1.29, THROTTLE) < 5);
    watch.reset();
    foreignStep();
    assertEquals(Double.POSITIVE_INFINITY, secondsToReturn(true, 0.5, THROTTLE), "too low");
  }

  /** A spike is over at once; the estimate is then restored only if it has changed. */
  @Test
  void foreignReadingsThatLastAreToldFromASpike() {
    foreignStep();
    secondsToReturn(true, 1, THROTTLE);
    assertFalse(watch.lasted());
    watch.reset();
    foreignStep();
    for (int i = 0; i < 10; i++) {
      next(CALM);
      watch.returned(STEP, false, 1, THROTTLE);
    }
    secondsToReturn(true, 1, THROTTLE);
    assertTrue(watch.lasted());
    watch.reset();
    next(LARGE);
    calm(1);
    assertFalse(watch.lasted(), "not foreign");
  }

  /** Without an earlier state, either side of a step may be the valid one. */
  @Test
  void afterAReinitialisationALaterStepIsJudgedAgain() {
    foreignStep();
    calm(1);
    assertTrue(watch.settled());
    watch.reinitialised();
    assertTrue(watch.blind());
    assertFalse(watch.settled());
    assertFalse(watch.awaitsReturn());
    calm(5);
    next(LARGE);
    assertTrue(watch.back());
    assertTrue(calm(1));
    calm(15);
    assertFalse(watch.blind());
    next(LARGE);
    calm(1);
    assertTrue(watch.settled());
  }

  /** After seconds of a wrong scale the estimate is that of an undisturbed one within 5 %. */
  @ParameterizedTest
  @CsvSource({
    "1.2, 0.7, 4",
    "1.1, 1.4, 6",
    "0.8, 1.6, 3",
    // past the apparent knee, without a step back, too short to be judged, of the current alone
    "0.73, 0.8, 5",
    "1.03, 1.08, 5.4",
    "0.91, 0.7, 0.26",
    "0.99, 0.41, 7.7"
  })
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
