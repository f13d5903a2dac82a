package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** Innovations distinguish a wrong time model from a right one, whatever was stated. */
class TimingWatchTest {

  private static final double SECONDS = 60;

  private static TimingStatus fly(LoggedFlight flight, TimeModel stated) {
    MarginEstimator estimator = new MarginEstimator(TestCraft.SETTINGS.withTiming(stated));
    MarginReading reading = new MarginReading();
    while (flight.flight().seconds < SECONDS) {
      flight.next();
      estimator.update(
          0.02, flight.busVolts, flight.busAmps, flight.flight().throttle, Double.NaN, reading);
    }
    return estimator.timingStatus();
  }

  private static TestFlight flight(long seed) {
    return new TestFlight(t -> 0.9, t -> 0.5, 50, seed);
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3, 4, 5, 6})
  void aRightTimeModelIsKept(long seed) {
    assertEquals(
        TimingStatus.STATED,
        fly(new LoggedFlight(flight(seed), 0, 0, 0, 0, 1, 0), TimeModel.SIMULTANEOUS));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.05, 0.1, 0.3})
  void anUnstatedFilterIsDetected(double seconds) {
    assertEquals(
        TimingStatus.LEFT_OUT,
        fly(new LoggedFlight(flight(7), seconds, seconds, 0, 0, 1, 0.01), TimeModel.SIMULTANEOUS));
  }

  @Test
  void aStatedFilterIsNotReported() {
    ChannelTiming filter = new ChannelTiming(0.2, 0, 0, 0.01);
    TimeModel stated = new TimeModel(filter, filter, 0, 0, true, TimeModel.Source.STATED);
    assertEquals(
        TimingStatus.STATED, fly(new LoggedFlight(flight(8), 0.2, 0.2, 0, 0, 1, 0.01), stated));
  }

  @ParameterizedTest
  @ValueSource(ints = {2, 4})
  void delayedReadingsAreDetected(int rows) {
    assertEquals(
        TimingStatus.LEFT_OUT,
        fly(new LoggedFlight(flight(9), 0, 0, 0, rows, 1, 0), TimeModel.SIMULTANEOUS));
  }

  @Test
  void tooFewSamplesGiveNoResult() {
    TimingWatch watch = new TimingWatch();
    for (int i = 0; i < 100; i++) {
      watch.follow(0.02, 0.5 + 0.01 * Math.sin(0.5 * i), 1, 1);
      assertEquals(0, watch.correlation());
    }
    assertTrue(!watch.disagrees());
  }
}
