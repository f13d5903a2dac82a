package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** The aligned filter against a plain one that is given each step by hand. */
class AlignedFilterStepsTest {

  private double filteredVolts = Double.NaN;
  private double filteredAmps = Double.NaN;

  private static final long MS = 1_000_000L;
  private static final double NONE = Double.NaN;

  private static void assertSame(HiddenStateFilter expected, HiddenStateFilter actual, String at) {
    for (int i = 0; i < State.SIZE; i++) {
      assertEquals(expected.state(i), actual.state(i), 1e-9, at + ", state " + i);
      for (int j = 0; j < State.SIZE; j++) {
        double scale = Math.sqrt(expected.covariance().get(i, i) * expected.covariance().get(j, j));
        assertEquals(
            expected.covariance().get(i, j),
            actual.covariance().get(i, j),
            1e-8 * scale,
            at + ", covariance of " + i + " and " + j);
      }
    }
  }

  /**
   * The weight of the new value behind a filter is h / (tau + h), 1 without one; behind it the
   * readings are rounded, so that the filters' outputs are uncertain.
   */
  @ParameterizedTest
  @CsvSource({"0, 0, 1, 1", "0.08, 0, 0.2, 1", "0, 0.18, 1, 0.1", "0.03, 0.06, 0.4, 0.25"})
  void filtersBetweenReadingsArePartOfTheState(
      double voltsFilter, double ampsFilter, double voltsNew, double ampsNew) {
    TimeModel model =
        new TimeModel(
            new ChannelTiming(voltsFilter, 0, 0, 0.1),
            new ChannelTiming(ampsFilter, 0, 0, 0.05),
            0,
            0,
            true,
            TimeModel.Source.STATED);
    EstimatorSettings unknown = TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN);
    AlignedFilter aligned = new AlignedFilter(unknown, TimeModel.UNKNOWN);
    aligned.configure(model);
    EstimatorSettings stated = TestCraft.SETTINGS.withTiming(model);
    HiddenStateFilter plain = new HiddenStateFilter(stated, stated.newArray());
    plain.setFiltered(voltsFilter + ampsFilter > 0);
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 3);
    double before = 0;
    for (int i = 0; i < 40; i++) {
      flight.next();
      aligned.command(20 * MS * i, flight.throttle);
      aligned.reading(20 * MS * i, flight.busVolts, flight.busAmps, NONE);
      assertTrue(aligned.predict());
      if (i == 0) {
        plain.start(flight.busVolts, flight.busAmps, flight.throttle);
      } else {
        plain.hold(before);
        plain.predict(0.02, flight.throttle);
        assertEquals(voltsNew, aligned.sample().voltsNew, 1e-12);
        assertEquals(ampsNew, aligned.sample().ampsNew, 1e-12);
        plain.setFilterStep(voltsNew, ampsNew);
      }
      assertTrue(aligned.correct(false));
      assertTrue(plain.correct(aligned.sample(), false));
      before = flight.throttle;
      assertSame(plain, aligned.filter(), "sample " + i);
    }
  }

  private static TimeModel behindFilters() {
    ChannelTiming channel = new ChannelTiming(0.2, 0, 0, 0.01);
    return new TimeModel(channel, channel, 0, 0, true, TimeModel.Source.STATED);
  }

  private static AlignedFilter statedFilters() {
    return new AlignedFilter(TestCraft.SETTINGS.withTiming(behindFilters()), behindFilters());
  }

  /** The next sample, with readings behind the filters that {@link #behindFilters} states. */
  private void next(TestFlight flight) {
    flight.next();
    double share = Double.isNaN(filteredVolts) ? 1 : 0.02 / 0.22;
    filteredVolts = share == 1 ? flight.busVolts : blend(filteredVolts, flight.busVolts, share);
    filteredAmps = share == 1 ? flight.busAmps : blend(filteredAmps, flight.busAmps, share);
  }

  private void predict(AlignedFilter aligned, TestFlight flight) {
    FedSample.predict(aligned, flight, filteredVolts, filteredAmps, NONE);
  }

  private static double blend(double before, double now, double share) {
    return before + share * (now - before);
  }

  private void fly(AlignedFilter aligned, TestFlight flight, double seconds) {
    while (flight.seconds < seconds) {
      next(flight);
      predict(aligned, flight);
      assertTrue(aligned.correct(false));
    }
  }

  /** The bus voltage falls by volts from the first sample to the hover. */
  @Test
  void filtersThatAreFoundInFlightBeginAtThePresentReadings() {
    AlignedFilter aligned =
        new AlignedFilter(TestCraft.SETTINGS.withTiming(TimeModel.UNKNOWN), TimeModel.UNKNOWN);
    TestFlight flight = new TestFlight(t -> 0.9, t -> t < 1 ? 0.2 : 0.5, 50, 3);
    fly(aligned, flight, 6);
    aligned.configure(behindFilters());
    fly(aligned, flight, 6.02);
    assertTrue(aligned.filter().outlierSize() < 9, "size " + aligned.filter().outlierSize());
    assertFalse(aligned.filter().outlier());
  }

  /** The throttle changes while no reading is usable. */
  @Test
  void filtersFollowTheCommandsWhileNoReadingArrives() {
    AlignedFilter aligned = statedFilters();
    TestFlight flight = new TestFlight(t -> 0.9, t -> t < 6.1 ? 0.4 : 0.52, 50, 3);
    fly(aligned, flight, 6);
    while (flight.seconds < 8) {
      next(flight);
      long nanos = Math.round(flight.seconds * 1e9);
      aligned.command(nanos, flight.throttle);
      aligned.coast(nanos);
    }
    fly(aligned, flight, 8.02);
    assertTrue(aligned.filter().outlierSize() < 9, "size " + aligned.filter().outlierSize());
  }

  /** The weight of a new value is 0.02 / 0.22. */
  @Test
  void filtersFollowTheCraftThroughADeferredReading() {
    AlignedFilter aligned = statedFilters();
    TestFlight flight = new TestFlight(t -> 0.9, t -> t < 6 ? 0.4 : 0.52, 50, 3);
    fly(aligned, flight, 6.1);
    double before = aligned.filter().state(State.FILTERED_VOLTS);
    next(flight);
    filteredVolts += 4.5;
    predict(aligned, flight);
    assertFalse(aligned.correct(true), "deferred");
    double now = (1 + aligned.filter().state(State.VOLTAGE_GAIN)) * aligned.filter().volts();
    assertTrue(Math.abs(now - before) > 0.1, now + " V, " + before + " V before");
    double expected = before + 0.02 / 0.22 * (now - before);
    assertEquals(expected, aligned.filter().state(State.FILTERED_VOLTS), 1e-9);
  }

  @Test
  void theFirstSampleSeesTheLastCommandBeforeIt() {
    AlignedFilter aligned = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
    assertFalse(aligned.aligner().commandDue(Long.MAX_VALUE));
    aligned.command(10 * MS, 0.4);
    aligned.command(20 * MS, 0.6);
    assertTrue(aligned.aligner().commandDue(20 * MS));
    aligned.reading(30 * MS, 28, 2.7, NONE);
    assertTrue(aligned.predict());
    assertEquals(0.6, aligned.sample().throttle);
    assertEquals(0.6, aligned.filter().throttle());
  }

  /** Also later than 30 ms after the clock's origin. */
  @Test
  void aShortStepIsOneOfThirtyMillisecondsFromTheLastSample() {
    AlignedFilter aligned = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
    HiddenStateFilter plain =
        new HiddenStateFilter(TestCraft.SETTINGS, TestCraft.SETTINGS.newArray());
    aligned.command(1000 * MS, 0.5);
    aligned.reading(1000 * MS, 28.6, 2.7, NONE);
    assertTrue(aligned.predict());
    plain.start(28.6, 2.7, 0.5);
    aligned.command(1010 * MS, 0.51);
    aligned.reading(1030 * MS, 28.5, 2.7, NONE);
    assertTrue(aligned.predict());
    plain.hold((0.5 + 2 * 0.51) / 3);
    plain.predict(0.03, 0.51);
    assertSame(plain, aligned.filter(), "a short step");
    aligned.command(1040 * MS, 0.52);
    aligned.reading(1060 * MS + 1, 28.5, 2.7, NONE);
    assertTrue(aligned.predict());
    plain.hold(0.51);
    plain.predict(0.01, 0.52);
    plain.hold(0.52);
    plain.predict(20 * MS * 1e-9 + 1e-9, 0.52);
    assertSame(plain, aligned.filter(), "a longer one");
  }

  @Test
  void aRestartForgetsThePeak() {
    AlignedFilter aligned = new AlignedFilter(TestCraft.SETTINGS, TimeModel.SIMULTANEOUS);
    aligned.command(0, 0.5);
    aligned.reading(0, 28.6, 2.7, NONE);
    assertTrue(aligned.predict());
    aligned.array().solvePeak();
    assertTrue(aligned.array().curve().peakDiodeVolts() > 0);
    aligned.restart();
    assertTrue(Double.isNaN(aligned.array().curve().peakDiodeVolts()));
  }
}
