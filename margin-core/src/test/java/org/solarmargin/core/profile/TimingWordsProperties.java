package org.solarmargin.core.profile;

import static org.junit.jupiter.api.Assertions.assertEquals;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.solarmargin.core.estimator.TimingStatus;
import org.solarmargin.core.timing.ChannelTiming;
import org.solarmargin.core.timing.TimeModel;

class TimingWordsProperties {

  private static final String CRAFT =
      """
      array.series_cells = 48
      array.parallel_strings = 1
      cell.isc_a = 6.02
      cell.voc_v = 0.683
      cell.impp_a = 5.70
      cell.vmpp_v = 0.574
      """;

  /** What the words say is what the profile needs: the lines read back as the model. */
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
}
