package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.timing.TimeModel;

/**
 * When a live estimate records, searches, uses what was found and searches again. The searches are
 * over 3.6 s of flight, which are passed as often as a search is due: equal recordings give equal
 * results.
 */
class LiveTimingStepsTest {

  private static final EstimatorSettings SETTINGS =
      TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN);
  private static final int ROWS = 180;
  private static final double STEP = 0.125;

  /** Time, throttle, volts and amperes of a flight without a filter, and with one of 0.4 s. */
  private static final double[][] SHARP = log(0);

  private static final double[][] FILTERED = log(0.4);

  private static final TimeModel FOUND_SHARP = found(SHARP);
  private static final TimeModel FOUND_FILTERED = found(FILTERED);

  private final TimingSearch search = new TimingSearch(SETTINGS, ROWS, 0);
  private final LiveTiming timing = new LiveTiming(TimeModel.UNKNOWN, search);
  private final HiddenStateFilter filter = new HiddenStateFilter(SETTINGS, SETTINGS.newArray());
  private final Sample sample = new Sample();

  private static double[][] log(double filterSeconds) {
    LoggedFlight flight =
        new LoggedFlight(
            new TestFlight(t -> 0.9, t -> 0.5, 50, 3), filterSeconds, filterSeconds, 0, 0, 1, 0.01);
    double[][] rows = new double[ROWS][];
    for (int i = 0; i < ROWS; i++) {
      flight.next();
      rows[i] =
          new double[] {flight.nanos(), flight.flight().throttle, flight.busVolts, flight.busAmps};
    }
    return rows;
  }

  private void record(double[][] log, int from, int to) {
    for (int i = from; i < to; i++) {
      timing.reading(0.02, (long) log[i][0], log[i][1], log[i][2], log[i][3]);
    }
  }

  /** A reading while nothing is recorded. */
  private void pass(double step) {
    timing.reading(step, 0, 0.5, 29, 3);
  }

  /** Both innovations are 1; the throttle rises, which is a correlation of one with them. */
  private boolean follow() {
    sample.throttle += 0.001;
    return timing.follow(STEP, true, sample, filter);
  }

  private boolean take() {
    return timing.follow(STEP, false, sample, filter);
  }

  /** Records and searches; returns whether the model has changed. */
  private boolean searchOver(double[][] log) {
    record(log, 0, ROWS);
    for (int i = 0; !search.done() && i < 1000; i++) {
      pass(1);
    }
    assertTrue(search.done());
    return take();
  }

  private static TimingSearch recorded(double[][] log) {
    TimingSearch search = new TimingSearch(SETTINGS, ROWS, 0);
    for (double[] row : log) {
      search.record((long) row[0], row[1], row[2], row[3]);
    }
    search.start();
    return search;
  }

  private static TimeModel found(double[][] log) {
    TimingSearch search = recorded(log);
    while (!search.work(1000)) {
      // each slice is bounded
    }
    return search.model();
  }

  private void idle(int seconds) {
    for (int i = 0; i < seconds; i++) {
      pass(1);
    }
  }

  /** Whether the next reading is recorded. */
  private void assertRecording() {
    assertEquals(0, search.rows());
    assertFalse(search.done());
    record(SHARP, 0, 1);
    assertEquals(1, search.rows());
    timing.disturbed();
    assertEquals(0, search.rows(), "a disturbance starts the recording again");
  }

  @Test
  void aModelIsUsedOnceTwoSearchesAgree() {
    assertTrue(FOUND_SHARP.throttleUsed());
    assertFalse(searchOver(SHARP));
    assertEquals(TimingStatus.SEARCHING, timing.status());
    assertSame(TimeModel.UNKNOWN, timing.model());
    assertRecording();
    assertTrue(searchOver(SHARP));
    assertEquals(TimingStatus.FOUND, timing.status());
    assertEquals(FOUND_SHARP, timing.model());
    // a model from 20 s of readings is less sure than a stated one
    assertEquals(0.07, timing.timingLogSd());
    double filtered = Math.min(FOUND_SHARP.longestFilterSeconds() / 0.1, 1);
    assertEquals(0.4 + 0.18 * filtered, timing.biasSigmas(), 1e-12);
    assertFalse(take(), "taken before");
  }

  /** 6000 rows per second of flight, in slices of at most 1024. */
  @ParameterizedTest
  @ValueSource(doubles = {0.0009765625, 0.015625, 1})
  void theSearchRunsAlongsideTheFlight(double step) {
    TimingSearch alone = recorded(SHARP);
    int rows = 1;
    while (!alone.work(1)) {
      rows++;
    }
    record(SHARP, 0, ROWS - 1);
    assertFalse(search.full());
    record(SHARP, ROWS - 1, ROWS);
    assertTrue(search.full());
    int readings = 0;
    while (!search.done() && readings < rows) {
      pass(step);
      readings++;
    }
    assertEquals(Math.ceil(rows / Math.min(6000 * step, 1024)), readings);
  }

  @Test
  void searchesThatDisagreeEndAfterFour() {
    assertFalse(LiveTiming.agree(FOUND_SHARP, FOUND_FILTERED));
    for (int i = 0; i < 4; i++) {
      assertEquals(0, search.rows(), "recording for search " + i);
      assertFalse(searchOver(i % 2 == 0 ? SHARP : FILTERED));
      assertEquals(TimingStatus.SEARCHING, timing.status());
      assertSame(TimeModel.UNKNOWN, timing.model());
    }
    assertTrue(search.full(), "no recording until five minutes have passed");
    idle(300);
    assertTrue(search.full());
    idle(1);
    assertRecording();
    assertTrue(searchOver(FILTERED), "agrees with the fourth");
    assertEquals(FOUND_FILTERED, timing.model());
  }

  @Test
  void aModelInUseIsCheckedEveryFiveMinutes() {
    searchOver(SHARP);
    searchOver(SHARP);
    idle(301);
    for (int i = 0; i < 50; i++) {
      assertFalse(follow());
    }
    assertTrue(searchOver(SHARP), "found again");
    assertEquals(TimingStatus.FOUND, timing.status());
    // the evidence against the model before counts no more: see LiveTimingTrialTest for the 67
    for (int i = 0; i < 66; i++) {
      assertFalse(follow());
    }
    assertTrue(follow());
    assertEquals(TimingStatus.LEFT_OUT, timing.status());
  }

  @Test
  void aModelThatIsNotFoundAgainIsUsedNoMore() {
    searchOver(SHARP);
    searchOver(SHARP);
    idle(301);
    assertTrue(searchOver(FILTERED));
    assertEquals(TimingStatus.SEARCHING, timing.status());
    assertSame(TimeModel.UNKNOWN, timing.model());
    assertRecording();
  }

  private void reject() {
    for (int i = 0; i < 67; i++) {
      assertEquals(i == 66, follow());
    }
    assertEquals(TimingStatus.LEFT_OUT, timing.status());
    assertSame(TimeModel.UNKNOWN, timing.model());
    assertEquals(0.04, timing.timingLogSd());
  }

  @Test
  void afterARejectionTwoSearchesMustAgreeAgain() {
    searchOver(SHARP);
    searchOver(SHARP);
    timing.outlier(1000);
    reject();
    assertRecording();
    for (int i = 0; i < 100; i++) {
      assertFalse(follow(), "only a stated model is tried again");
    }
    assertFalse(searchOver(SHARP), "the earlier result does not count");
    assertEquals(TimingStatus.LEFT_OUT, timing.status());
    assertTrue(searchOver(SHARP));
    assertEquals(TimingStatus.FOUND, timing.status());
  }

  @Test
  void aSearchGoesOnThroughRejectionAndDisturbance() {
    searchOver(SHARP);
    searchOver(SHARP);
    idle(301);
    record(SHARP, 0, ROWS);
    pass(0.02);
    reject();
    timing.disturbed();
    assertTrue(search.full(), "still at the search");
    idle(1000);
    assertTrue(search.done());
    assertFalse(take());
    assertRecording();
  }

  @Test
  void aResetBeginsWithARecording() {
    searchOver(SHARP);
    searchOver(SHARP);
    timing.reset();
    assertEquals(TimingStatus.SEARCHING, timing.status());
    assertSame(TimeModel.UNKNOWN, timing.model());
    assertRecording();
    record(SHARP, 0, ROWS);
    pass(0.02);
    timing.reset();
    assertFalse(searchOver(SHARP), "the earlier results do not count");
  }

  private int rowsUntilSearched(double step) {
    timing.reset();
    for (int i = 0; i < ROWS; i++) {
      timing.reading(step, i * Math.round(step * 1e9), 0.5, 29, 3);
    }
    return search.rows();
  }

  /** A slow recording ends after more than 45 s, but not before 80 rows; 80 x 0.5625 s are 45 s. */
  @Test
  void aSlowRecordingEndsAfterThreeQuartersOfAMinute() {
    assertEquals(80, rowsUntilSearched(1));
    assertEquals(81, rowsUntilSearched(0.5625));
    assertEquals(91, rowsUntilSearched(0.5));
    assertEquals(ROWS, rowsUntilSearched(0.02));
  }
}
