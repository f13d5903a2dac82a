package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.solarmargin.core.align.Sample;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

/** What a time model costs in bias and interval, and which searches agree: worked out by hand. */
class LiveTimingRulesTest {

  private static TimeModel model(
      double voltsFilter,
      double ampsFilter,
      double voltsLate,
      double ampsLate,
      double early,
      TimeModel.Source source) {
    return new TimeModel(
        new ChannelTiming(voltsFilter, voltsLate, 0, 0),
        new ChannelTiming(ampsFilter, ampsLate, 0, 0),
        0,
        early,
        true,
        source);
  }

  private static LiveTiming timing(TimeModel model) {
    return new LiveTiming(TestCraft.SETTINGS.withTiming(model));
  }

  @Test
  void theSourceOfTheModelIsItsStatusAndItsDoubt() {
    LiveTiming stated = timing(TimeModel.SIMULTANEOUS);
    assertEquals(TimingStatus.STATED, stated.status());
    assertEquals(0, stated.timingLogSd());
    assertEquals(0, stated.biasSigmas());
    assertSame(TimeModel.SIMULTANEOUS, stated.model());
    LiveTiming unknown = timing(TimeModel.UNKNOWN);
    assertEquals(TimingStatus.SEARCHING, unknown.status());
    assertEquals(0.09, unknown.timingLogSd());
    // found in the log before: as sure as stated
    TimeModel found = model(0, 0, 0, 0.04, 0, TimeModel.Source.FOUND);
    assertEquals(TimingStatus.FOUND, timing(found).status());
    assertEquals(0, timing(found).timingLogSd());
    assertEquals(0, timing(found).biasSigmas());
    assertEquals(TimingStatus.LEFT_OUT, timing(found.withoutThrottle()).status());
    assertEquals(0.04, timing(found.withoutThrottle()).timingLogSd());
    assertFalse(stated.onTrial());
  }

  /** 0.18 sigmas for a filter of 0.1 s and more, in proportion below. */
  @ParameterizedTest
  @CsvSource({"0.05, 0, 0.09", "0, 0.02, 0.036", "0.1, 0.05, 0.18", "0.5, 0.1, 0.18"})
  void filtersBiasTheEstimate(double volts, double amps, double sigmas) {
    LiveTiming timing = timing(model(volts, amps, 0, 0, 0, TimeModel.Source.STATED));
    assertEquals(sigmas, timing.biasSigmas(), 1e-12);
  }

  /** Steps of 0.08 s are 0.05 s too long: a tenth of the way to 0.5 of 0.08 sigmas at each. */
  @Test
  void slowSamplesBiasTheEstimateInThePlaceOfFilters() {
    LiveTiming timing = timing(model(0.05, 0, 0, 0, 0, TimeModel.Source.STATED));
    HiddenStateFilter filter =
        new HiddenStateFilter(TestCraft.SETTINGS, TestCraft.SETTINGS.newArray());
    Sample sample = new Sample();
    double slow = 0;
    for (int i = 0; i < 5; i++) {
      assertFalse(timing.follow(0.08, false, sample, filter));
      slow += 0.1 * (0.5 - slow);
      assertEquals(0.08 * slow + 0.09 * (1 - slow), timing.biasSigmas(), 1e-12);
    }
    for (int i = 0; i < 200; i++) {
      timing.follow(0.5, false, sample, filter);
    }
    assertEquals(0.08, timing.biasSigmas(), 1e-12, "no more than all of it");
    timing.reset();
    assertEquals(0.09, timing.biasSigmas(), 1e-12);
  }

  /** Filter times plus 0.03 s within a factor of 1.5, delays within 0.03 s. */
  @Test
  void searchesAgreeUpToTheirLimits() {
    TimeModel.Source found = TimeModel.Source.FOUND;
    TimeModel one = model(0.12, 0.12, 0, 0.06, 0.05, found);
    assertTrue(LiveTiming.agree(one, model(0.0701, 0.12, 0, 0.06, 0.05, found)));
    assertFalse(LiveTiming.agree(one, model(0.0699, 0.12, 0, 0.06, 0.05, found)));
    assertTrue(LiveTiming.agree(one, model(0.12, 0.1949, 0, 0.06, 0.05, found)));
    assertFalse(LiveTiming.agree(one, model(0.12, 0.1951, 0, 0.06, 0.05, found)));
    assertTrue(LiveTiming.agree(one, model(0.12, 0.12, 0, 0.0301, 0.05, found)));
    assertFalse(LiveTiming.agree(one, model(0.12, 0.12, 0, 0.0299, 0.05, found)));
    // the voltage's delay counts against the current's
    assertTrue(LiveTiming.agree(one, model(0.12, 0.12, 0.02, 0.08, 0.05, found)));
    assertFalse(LiveTiming.agree(one, model(0.12, 0.12, 0.04, 0.06, 0.05, found)));
    assertTrue(LiveTiming.agree(one, model(0.12, 0.12, 0, 0.06, 0.0799, found)));
    assertFalse(LiveTiming.agree(one, model(0.12, 0.12, 0, 0.06, 0.0801, found)));
    assertFalse(LiveTiming.agree(one, model(0.12, 0.12, 0, 0.06, 0.0199, found)));
    assertTrue(LiveTiming.agree(model(0.12, 0.12, 0.02, 0.08, 0.05, found), one));
    assertFalse(LiveTiming.agree(one, one.withoutThrottle()));
  }

  /** The limits themselves, in numbers whose difference or ratio has no rounding error. */
  @Test
  void searchesAtTheirLimitsDisagree() {
    TimeModel.Source found = TimeModel.Source.FOUND;
    TimeModel one = model(0, 0, 0, 0, 0, found);
    assertEquals(Math.log(1.5), Math.log((0.015 + 0.03) / 0.03), "1.5 times 0.03 s");
    assertTrue(LiveTiming.agree(one, model(0.0149, 0.0149, 0, 0.0299, 0.0299, found)));
    assertFalse(LiveTiming.agree(model(0.015, 0, 0, 0, 0, found), one));
    assertFalse(LiveTiming.agree(model(0, 0.015, 0, 0, 0, found), one));
    assertFalse(LiveTiming.agree(one, model(0, 0, 0, 0.03, 0, found)));
    assertFalse(LiveTiming.agree(one, model(0, 0, 0, 0, 0.03, found)));
  }
}
