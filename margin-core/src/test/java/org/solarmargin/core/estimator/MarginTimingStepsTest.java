package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.timing.TimeModel;

/** Averaging without a time model, the search for one at a low rate, and a stated one on trial. */
class MarginTimingStepsTest {

  private static final double NONE = Double.NaN;
  private static final EstimatorSettings UNKNOWN = TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN);
  private final MarginReading reading = new MarginReading();

  private boolean feed(MarginEstimator estimator, TestFlight flight, double step) {
    flight.next();
    return estimator.update(step, flight.busVolts, flight.busAmps, flight.throttle, NONE, reading);
  }

  /** After the first second in the air, windows of 0.15 s: seven or eight readings at 50 Hz. */
  @Test
  void withoutATimeModelReadingsAreAveragedAfterASecond() {
    MarginEstimator estimator = new MarginEstimator(UNKNOWN);
    assertSame(TimeModel.UNKNOWN, estimator.timing());
    assertEquals(TimingStatus.SEARCHING, estimator.timingStatus());
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    int means = 0;
    for (int i = 0; i < 300; i++) {
      double before = reading.demandWatts();
      assertTrue(feed(estimator, flight, 0.02), "sample " + i);
      boolean averages = estimator.averaging();
      assertTrue(i == 50 || averages == i > 50, "sample " + i);
      assertTrue(averages || estimator.advanced(), "sample " + i);
      assertEquals(estimator.advanced(), before != reading.demandWatts(), "sample " + i);
      means += averages && estimator.advanced() ? 1 : 0;
    }
    assertEquals(249 / 7.5, means, 3);
    assertEquals(Status.COARSE, reading.status());
    assertEquals(flight.availableWatts, reading.availableWatts(), 0.2 * flight.availableWatts);
  }

  @Test
  void readingsOfTheFirstSecondAreNotAveraged() {
    MarginEstimator estimator = new MarginEstimator(UNKNOWN);
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 4, 3);
    for (int i = 0; i < 6; i++) {
      feed(estimator, flight, 0.25);
      assertEquals(i > 4, estimator.averaging(), "at " + 0.25 * i);
    }
  }

  /** A search takes 80 rows and at least 45 s; two that agree are necessary. */
  @Test
  void aTimeModelIsSearchedForAtThreeReadingsASecond() {
    MarginEstimator estimator = new MarginEstimator(UNKNOWN);
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 3, 3);
    while (estimator.timingStatus() == TimingStatus.SEARCHING && flight.seconds < 200) {
      feed(estimator, flight, 1.0 / 3);
    }
    assertNotEquals(TimingStatus.SEARCHING, estimator.timingStatus());
    assertTrue(flight.seconds > 90, "found after " + flight.seconds);
    assertTrue(estimator.timing().known());
  }

  @Test
  void onTheGroundNothingIsSearchedFor() {
    MarginEstimator estimator = new MarginEstimator(UNKNOWN);
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.05, 3, 3);
    while (flight.seconds < 200) {
      feed(estimator, flight, 1.0 / 3);
    }
    assertEquals(TimingStatus.SEARCHING, estimator.timingStatus());
  }

  /** Readings behind a filter that is not stated; the time at which the model was rejected, s. */
  private double flyUntilRejected(MarginEstimator estimator, LoggedFlight log, boolean step) {
    while (estimator.timingStatus() == TimingStatus.STATED && log.flight().seconds < 60) {
      log.next();
      double wrong = step && Math.abs(log.flight().seconds - 5.5) < 0.05 ? 0.3 : 1;
      double volts = wrong * log.busVolts;
      estimator.update(0.02, volts, log.busAmps, log.flight().throttle, NONE, reading);
    }
    assertEquals(TimingStatus.LEFT_OUT, estimator.timingStatus());
    assertFalse(estimator.timing().throttleUsed());
    assertTrue(estimator.stateSd(State.PROPULSION) < 0.12, "the estimate goes on");
    return log.flight().seconds;
  }

  private static LoggedFlight filtered() {
    return new LoggedFlight(new TestFlight(t -> 0.9, t -> 0.5, 50, 7), 0.3, 0.3, 0, 0, 1, 0.01);
  }

  /** Eight seconds later the estimate begins anew with the stated model. */
  @Test
  void aModelThatWasRejectedAfterAStepIsTriedAgainFromThePrior() {
    MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
    LoggedFlight log = filtered();
    double rejected = flyUntilRejected(estimator, log, true);
    double tried = NONE;
    while (Double.isNaN(tried) && log.flight().seconds < rejected + 20) {
      log.next();
      estimator.update(0.02, log.busVolts, log.busAmps, log.flight().throttle, NONE, reading);
      assertNotEquals(Status.SHARP, reading.status());
      tried = estimator.timing().throttleUsed() ? log.flight().seconds : NONE;
    }
    assertEquals(8, tried - rejected, 0.3);
    assertEquals(0.15, estimator.stateSd(State.PROPULSION), 1e-9, "the prior's sigma");
    assertEquals(Status.WARMING_UP, reading.status());
  }

  @Test
  void aModelThatWasRejectedWithoutAStepIsNotTriedAgain() {
    MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
    LoggedFlight log = filtered();
    double rejected = flyUntilRejected(estimator, log, false);
    assertTrue(rejected > 6, "innovations of the first seconds do not count");
    while (log.flight().seconds < rejected + 12) {
      log.next();
      estimator.update(0.02, log.busVolts, log.busAmps, log.flight().throttle, NONE, reading);
      assertFalse(estimator.timing().throttleUsed());
      assertTrue(estimator.averaging());
    }
  }

  /** A reset brings the stated model back, and an empty window of readings. */
  @Test
  void aResetLeavesNothingOfTimingAndWindow() {
    MarginEstimator rejected = new MarginEstimator(TestCraft.SETTINGS);
    flyUntilRejected(rejected, filtered(), false);
    assertAsNewAfterReset(rejected, new MarginEstimator(TestCraft.SETTINGS));
    MarginEstimator averaging = new MarginEstimator(UNKNOWN);
    TestFlight flight = new TestFlight(t -> 0.6, t -> 0.5, 50, 4);
    for (int i = 0; i < 124; i++) {
      feed(averaging, flight, 0.02);
    }
    assertAsNewAfterReset(averaging, new MarginEstimator(UNKNOWN));
  }

  private void assertAsNewAfterReset(MarginEstimator estimator, MarginEstimator fresh) {
    estimator.reset();
    MarginReading expected = new MarginReading();
    TestFlight flight = new TestFlight(t -> 0.8, t -> 0.5, 50, 5);
    for (int i = 0; i < 100; i++) {
      feed(estimator, flight, 0.02);
      fresh.update(0.02, flight.busVolts, flight.busAmps, flight.throttle, NONE, expected);
      assertEquals(expected.snapshot(), reading.snapshot(), "sample " + i);
    }
  }
}
