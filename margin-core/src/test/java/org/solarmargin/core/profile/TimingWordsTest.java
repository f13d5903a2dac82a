package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TimingStatus;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

class TimingWordsTest {

  @Test
  void aCommonFilterIsMentionedOnce() {
    ChannelTiming filter = new ChannelTiming(0.2, 0, 0, 0);
    TimeModel model = new TimeModel(filter, filter, 0, 0, true, TimeModel.Source.FOUND);
    assertEquals(
        "readings filtered, about 0.20 s; the profile does not state this, but it is taken into"
            + " account. State it as sensor.voltage_filter_s = 0.20, sensor.current_filter_s ="
            + " 0.20",
        TimingWords.of(TimingStatus.FOUND, model));
  }

  @Test
  void aMonitorStatesTheTimeModelInUse() {
    MarginMonitor stated = monitor(TimeModel.SIMULTANEOUS);
    assertEquals(
        "time model as stated in the profile: readings and throttle belong to the same instant",
        stated.timingWords());
    MarginMonitor silent = monitor(TimeModel.UNKNOWN);
    assertTrue(silent.timingWords().contains("not been found yet"), silent.timingWords());
    String leftOut = TimingWords.of(TimingStatus.LEFT_OUT, TimeModel.SIMULTANEOUS);
    assertTrue(leftOut.contains("throttle is not used"), leftOut);
    assertFalse(TimingWords.of(TimingStatus.FOUND, TimeModel.SIMULTANEOUS).contains("State it"));
  }

  @Test
  void eachPartIsSaidFromAHundredthOfASecondOn() {
    TimeModel all =
        new TimeModel(
            new ChannelTiming(0.25, 0.01, 0, 0),
            new ChannelTiming(0.24, 0.03, 0, 0),
            0.02,
            0.04,
            true,
            TimeModel.Source.FOUND);
    assertEquals(
        "voltage filtered, about 0.25 s; current filtered, about 0.24 s; voltage 0.01 s later than"
            + " current; current 0.03 s later than voltage; throttle takes effect 0.04 s after it is"
            + " logged; motors follow the command with a lag of 0.02 s; the profile does not state"
            + " this, but it is taken into account. State it as sensor.voltage_filter_s = 0.25, sensor.current_filter_s ="
            + " 0.24, sensor.voltage_delay_s = 0.01, sensor.current_delay_s = 0.03,"
            + " rotor.command_delay_s = 0.04, rotor.command_lag_s = 0.02",
        TimingWords.found(all, all));
    ChannelTiming little = new ChannelTiming(0.0099, 0.0099, 0, 0);
    TimeModel none = new TimeModel(little, little, 0.0099, 0.0099, true, TimeModel.Source.FOUND);
    assertEquals("", TimingWords.lines(none));
    assertEquals("readings and throttle belong to the same instant", TimingWords.found(none, none));
    ChannelTiming hundredth = new ChannelTiming(0.01, 0, 0, 0);
    TimeModel filtered = new TimeModel(hundredth, hundredth, 0, 0, true, TimeModel.Source.STATED);
    assertEquals(
        "time model as stated in the profile: readings filtered, about 0.01 s",
        TimingWords.of(TimingStatus.STATED, filtered));
    assertTrue(TimingWords.found(all, all.withoutThrottle()).contains("throttle is not used"));
    assertTrue(TimingWords.of(TimingStatus.SEARCHING, all).contains("not been found yet"));
  }

  private static MarginMonitor monitor(TimeModel model) {
    return new MarginMonitor(
        TestCraft.SETTINGS.withTiming(model),
        AlertRules.DEFAULT,
        (nanos, level, raised, watts, margin, reason) -> {});
  }
}
