package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TimingStatus;
import org.solarmargin.core.monitor.MarginMonitor;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

class TimingWordsTest {

  private static final String CRAFT =
      """
      array.series_cells = 48
      array.parallel_strings = 1
      cell.isc_a = 6.02
      cell.voc_v = 0.683
      cell.impp_a = 5.70
      cell.vmpp_v = 0.574
      """;

  /** The profile lines in the text are read back as the same model. */
  @Property
  void theLinesStateTheModel(
      @ForAll @IntRange(min = 0, max = 50) int voltsFilter,
      @ForAll @IntRange(min = 1, max = 50) int ampsFilter,
      @ForAll @IntRange(min = 0, max = 30) int voltsDelay,
      @ForAll @IntRange(min = 0, max = 30) int ampsDelay,
      @ForAll @IntRange(min = 0, max = 50) int commandDelay,
      @ForAll @IntRange(min = 0, max = 90) int commandLag) {
    TimeModel model =
        new TimeModel(
            new ChannelTiming(voltsFilter / 100.0, voltsDelay / 100.0, 0, 0),
            new ChannelTiming(ampsFilter / 100.0, ampsDelay / 100.0, 0, 0),
            commandLag / 100.0,
            commandDelay / 100.0,
            true,
            TimeModel.Source.STATED);
    String words = TimingWords.of(TimingStatus.FOUND, model);
    String lines = words.substring(words.indexOf("State it as ") + "State it as ".length());
    TimeModel read =
        CraftProfile.parse("p", CRAFT + lines.replace(", ", "\n") + "\n").settings().timing();
    assertEquals(model, read);
  }

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

  private static MarginMonitor monitor(TimeModel model) {
    return new MarginMonitor(
        TestCraft.SETTINGS.withTiming(model),
        AlertRules.DEFAULT,
        (nanos, level, raised, watts, margin, reason) -> {});
  }
}
