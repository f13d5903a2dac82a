package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** What a recording for the search of a time model keeps: times in milliseconds. */
class FlightRecordingTest {

  private static final long MS = 1_000_000L;
  private static final double NONE = Double.NaN;
  private FlightRecording recording = new FlightRecording(100, 0);

  @Test
  void rowsAreKeptAsTheyCome() {
    recording.add(5 * MS, 0.5, 29, 3);
    recording.add(25 * MS, 0.6, NONE, NONE);
    assertEquals(2, recording.size());
    assertEquals(5 * MS, recording.nanos(0));
    assertEquals(0.5, recording.throttle(0));
    assertEquals(29, recording.volts(0));
    assertEquals(3, recording.amps(0));
    assertEquals(0.6f, recording.throttle(1));
    assertTrue(Double.isNaN(recording.volts(1)));
    recording.clear();
    assertEquals(0, recording.size());
    assertFalse(recording.full());
  }

  @Test
  void aFullOneTakesNoMore() {
    recording = new FlightRecording(2, 0);
    for (int i = 0; i < 4; i++) {
      assertEquals(i >= 2, recording.full());
      recording.add(i * MS * 20, 0.5, 29 + i, 3);
    }
    assertEquals(2, recording.size());
    assertEquals(30, recording.volts(1));
  }

  @Test
  void nearlyFullThrottleIsLeftOut() {
    recording.add(0, 0.95, 29, 3);
    recording.add(20 * MS, 0.951, 29, 3);
    assertEquals(1, recording.size());
  }

  @Test
  void rowsCloserThanTheSpacingAreThinned() {
    recording = new FlightRecording(100, 20 * MS);
    recording.add(0, 0.5, 29, 3);
    recording.add(19 * MS, 0.5, 28, 3);
    recording.add(20 * MS, 0.5, 27, 3);
    assertEquals(2, recording.size());
    assertEquals(27, recording.volts(1));
  }

  /** A command and its readings within 2 ms are one row; a later reading is a row of its own. */
  @Test
  void aCommandIsCompletedByReadingsOfTheSameInstant() {
    recording = new FlightRecording(100, 20 * MS);
    recording.add(0, 0.5, NONE, NONE);
    recording.add(2 * MS - 1, 0.6, 29, NONE);
    assertEquals(1, recording.size());
    assertEquals(0.5, recording.throttle(0), "the command's own");
    assertEquals(29, recording.volts(0));
    assertTrue(Double.isNaN(recording.amps(0)));
    recording.add(3 * MS, 0.5, NONE, 3);
    assertEquals(1, recording.size(), "it is complete, and this one is near");
    recording.clear();
    recording.add(0, 0.5, NONE, NONE);
    recording.add(1 * MS, 0.6, NONE, NONE);
    assertEquals(1, recording.size(), "nothing to complete it by");
    recording.add(2 * MS, 0.6, NONE, 3);
    assertEquals(2, recording.size());
    assertEquals(3, recording.amps(1));
    recording.clear();
    recording.add(0, 0.5, NONE, NONE);
    recording.add(1 * MS, 0.6, NONE, 3);
    assertEquals(3, recording.amps(0));
    recording.add(1 * MS, 0.6, 29, NONE);
    assertTrue(Double.isNaN(recording.volts(0)));
  }

  /** The least move of a reading, above single precision, is its rounding. */
  @Test
  void theLeastMoveIsTheRounding() {
    assertEquals(0, recording.voltsStep());
    assertEquals(0, recording.ampsStep());
    double[] volts = {29, 29.5, 29.25, NONE, 29.75, 29.75};
    double[] amps = {3, 3.00001, 2.5, 3.5, NONE, 3.25};
    for (int i = 0; i < volts.length; i++) {
      recording.add(i * MS * 20, 0.5, volts[i], amps[i]);
    }
    assertEquals(0.25, recording.voltsStep(), 1e-12);
    assertEquals(0.25, recording.ampsStep(), 1e-12);
    recording.clear();
    assertEquals(0, recording.voltsStep());
    recording = new FlightRecording(100, 20 * MS);
    recording.add(0, 0.5, 29, 3);
    recording.add(20 * MS, 0.5, NONE, NONE);
    recording.add(21 * MS, 0.5, 28.5, 2);
    assertEquals(0.5, recording.voltsStep(), "of a completed row too");
    assertEquals(1, recording.ampsStep());
  }

  @Test
  void theIntervalIsTheMedian() {
    assertEquals(0, recording.intervalSeconds());
    recording.add(0, 0.5, 29, 3);
    assertEquals(0, recording.intervalSeconds());
    long at = 0;
    for (long step : new long[] {20, 30, 20, 500, 25}) {
      at += step * MS;
      recording.add(at, 0.5, 29, 3);
    }
    // to 10 microseconds from above
    assertEquals(0.025, recording.intervalSeconds(), 1.1e-5);
    recording.add(at + 100 * MS, 0.5, 29, 3);
    recording.add(at + 201 * MS, 0.5, 29, 3);
    assertEquals(0.03, recording.intervalSeconds(), 1.1e-5, "20 20 25 30 100 101 500");
  }

  @Test
  void freshRowsHaveBothReadings() {
    recording.add(0, 0.5, 29, 3);
    assertEquals(0, recording.freshSeconds());
    recording.add(100 * MS, 0.5, NONE, 3);
    recording.add(200 * MS, 0.5, 29, NONE);
    assertEquals(0, recording.freshSeconds(), "one");
    recording.add(300 * MS, 0.5, 28, 3);
    assertEquals(0.15, recording.freshSeconds(), 1e-12, "two in 0.3 s");
  }

  private void fly(long fromMillis, long toMillis, double volts) {
    for (long at = fromMillis; at <= toMillis; at += 20) {
      recording.add(at * MS, 0.5, volts, 3);
    }
  }

  /**
   * Below three quarters of the usual voltage nothing is kept; after half a second of it, no more.
   */
  @Test
  void aCollapseEndsTheRecording() {
    fly(0, 180, 40);
    recording.add(200 * MS, 0.5, 30.01, 3);
    assertEquals(11, recording.size(), "three quarters of 40 V, less a hundredth, are 29.9 V");
    recording.add(220 * MS, 0.5, 29, 3);
    recording.add(230 * MS, 0.5, NONE, 3);
    assertEquals(11, recording.size(), "low, and still low where nothing is read");
    recording.add(700 * MS, 0.5, 29, 3);
    recording.add(720 * MS, 0.5, 40, 3);
    assertEquals(12, recording.size(), "half a second itself");
    fly(740, 1240, 27);
    recording.add(1260 * MS, 0.5, 40, 3);
    assertEquals(12, recording.size(), "collapsed: more than half a second after 720");
    recording.clear();
    fly(0, 180, 20);
    assertEquals(10, recording.size(), "another flight");
  }

  /** Rows at these times after an hour, in microseconds. */
  private void recordAt(long... micros) {
    for (long at : micros) {
      recording.add(3_600_000 * MS + at * 1000, 0.5, 29, 3);
    }
  }

  @Test
  void theClockMayStartAnywhere() {
    recording = new FlightRecording(100, 20 * MS);
    recordAt(0, 19_000, 20_000);
    assertEquals(2, recording.size(), "spacing");
    assertEquals(0.01, recording.freshSeconds(), 1e-12, "two in 0.02 s");
    recording.add(3_600_040 * MS, 0.5, NONE, NONE);
    recording.add(3_600_041 * MS, 0.5, 28, 3);
    assertEquals(3, recording.size());
    assertEquals(28, recording.volts(2), "a command and its readings");
    recording.add(3_600_060 * MS, 0.5, NONE, NONE);
    recording.add(3_600_063 * MS, 0.5, 27, 3);
    assertEquals(5, recording.size(), "a command and later readings");
  }

  @Test
  void twoRowsHaveTheirInterval() {
    recordAt(0, 20_000);
    assertEquals(0.02, recording.intervalSeconds(), 1e-12);
  }

  @Test
  void ofTwoIntervalsTheShorterIsTheMedian() {
    recordAt(0, 30_000, 50_000);
    assertEquals(0.02, recording.intervalSeconds(), 1.1e-5);
  }

  /**
   * Bisection between the shortest interval and the sum of all: 1, 2.5 and 3.5 ms lie between 1 and
   * 7 ms, whose middle is 4, then 2.5 ms, which is the median itself.
   */
  @Test
  void anIntervalInTheMiddleOfTheBisectionIsTheMedian() {
    recordAt(0, 1000, 3500, 7000);
    assertEquals(0.0025, recording.intervalSeconds(), 1e-12);
  }

  /** Two intervals of 10.24 ms: the bisection ends 10.24 ms / 1024 = 10 microseconds above. */
  @Test
  void theBisectionEndsAtTenMicroseconds() {
    recordAt(0, 10_240, 20_480);
    assertEquals(0.01025, recording.intervalSeconds(), 1e-12);
  }

  @Test
  void aMoveMustBeGreaterThanSinglePrecision() {
    recording.add(0, 0.5, 0, 0);
    recording.add(20 * MS, 0.5, 2e-5, -2e-5);
    assertEquals(2, recording.size(), "not low, although there is no voltage yet");
    assertEquals(0, recording.voltsStep());
    assertEquals(0, recording.ampsStep());
    recording.add(40 * MS, 0.5, 4.1e-5, -4.1e-5);
    assertEquals(2.1e-5, recording.voltsStep(), 1e-12);
    assertEquals(2.1e-5, recording.ampsStep(), 1e-12);
  }
}
