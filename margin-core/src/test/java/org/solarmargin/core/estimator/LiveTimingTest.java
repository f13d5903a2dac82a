package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

class LiveTimingTest {

  private static final double SECONDS = 200;

  private static TimeModel model(
      double voltsFilter, double ampsFilter, double voltsLate, double ampsLate, double early) {
    return new TimeModel(
        new ChannelTiming(voltsFilter, voltsLate, 0, 0),
        new ChannelTiming(ampsFilter, ampsLate, 0, 0),
        0,
        early,
        true,
        TimeModel.Source.FOUND);
  }

  @Test
  void searchesAgreeWithinAThirdOfTheFilterAndSomeHundredthsOfASecond() {
    TimeModel found = model(0.1, 0.1, 0, 0.06, 0);
    assertTrue(LiveTiming.agree(found, found));
    assertTrue(LiveTiming.agree(found, model(0.14, 0.08, 0, 0.04, 0.02)));
    assertFalse(LiveTiming.agree(found, model(0.2, 0.1, 0, 0.06, 0)), "filter of the voltage");
    assertFalse(LiveTiming.agree(found, model(0.1, 0.02, 0, 0.06, 0)), "filter of the current");
    assertFalse(LiveTiming.agree(found, model(0.1, 0.1, 0, 0.1, 0)), "delay of the current");
    assertFalse(LiveTiming.agree(found, model(0.1, 0.1, 0.06, 0, 0)), "delay of the voltage");
    assertFalse(LiveTiming.agree(found, model(0.1, 0.1, 0, 0.06, 0.04)), "delay of the command");
    assertFalse(LiveTiming.agree(found, found.withoutThrottle()), "throttle left out");
  }

  @Test
  void aModelIsUsedOnceTwoSearchesAgree() {
    LoggedFlight log =
        new LoggedFlight(new TestFlight(t -> 0.9, t -> 0.5, 50, 3), 0.1, 0.1, 0, 0, 1, 0.01);
    MarginEstimator estimator =
        new MarginEstimator(TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN));
    MarginReading reading = new MarginReading();
    double found = Double.NaN;
    while (log.flight().seconds < SECONDS && Double.isNaN(found)) {
      log.next();
      estimator.update(0.02, log.busVolts, log.busAmps, log.flight().throttle, Double.NaN, reading);
      if (log.flight().seconds > 2) {
        assertTrue(estimator.averaging(), "readings are averaged until a model is found");
      }
      if (estimator.timingStatus() == TimingStatus.FOUND) {
        found = log.flight().seconds;
      }
    }
    assertTrue(found > 40, "one search takes 20 s of flight, two take 40 s; found at " + found);
    assertEquals(0.1, estimator.timing().volts().filterSeconds(), 0.04);
  }

  /**
   * Flies a number of samples with scaled readings; returns the number of samples in which the
   * throttle is reported as not used.
   */
  private static int fly(
      MarginEstimator estimator, LoggedFlight log, int samples, double volts, double amps) {
    MarginReading reading = new MarginReading();
    int leftOut = 0;
    for (int i = 0; i < samples; i++) {
      log.next();
      estimator.update(
          0.02,
          volts * log.busVolts,
          amps * log.busAmps,
          log.flight().throttle,
          Double.NaN,
          reading);
      leftOut += estimator.timingStatus() == TimingStatus.LEFT_OUT ? 1 : 0;
    }
    return leftOut;
  }

  private static LoggedFlight flight(int ampsLate) {
    return new LoggedFlight(new TestFlight(t -> 0.9, t -> 0.5, 50, 3), 0, 0, ampsLate, 0, 1, 0.01);
  }

  @Test
  void aDisturbanceOfSecondsDoesNotRejectAStatedModelPermanently() {
    LoggedFlight log = flight(0);
    MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
    assertEquals(0, fly(estimator, log, 600, 1, 1));
    fly(estimator, log, 400, 0.92, 0.32);
    assertTrue(fly(estimator, log, 2000, 1, 1) > 0, "the disturbance causes a rejection");
    assertEquals(TimingStatus.STATED, estimator.timingStatus());
    assertTrue(estimator.timing().throttleUsed());
  }

  @Test
  void aWrongStatedModelStaysRejectedWhileItIsTriedAgain() {
    LoggedFlight log = flight(7);
    MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS);
    fly(estimator, log, 300, 1, 1);
    // a step, which is the condition for trying the model again
    fly(estimator, log, 50, 0.92, 0.32);
    fly(estimator, log, 1500, 1, 1);
    assertEquals(TimingStatus.LEFT_OUT, estimator.timingStatus());
    int leftOut = fly(estimator, log, 15_000, 1, 1);
    assertTrue(leftOut > 0.98 * 15_000, "left out in " + leftOut + " of 15000 samples");
  }
}
