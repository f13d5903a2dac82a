package org.solarmargin.cli.ramp;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;
import org.solarmargin.core.estimator.EstimatorSettings;

/** What a ramp on a tether says, with and without a sun meter beside it. */
class RampTextTest {

  private static EstimatorSettings settings;
  private static List<RampPoint> points;

  @BeforeAll
  static void fly() throws IOException {
    RampStudy study = new RampStudy(Cli.EXAMPLES);
    settings = study.craft().settings();
    points = study.ramp(1, RampStudy.loggers().get(0));
  }

  private static String words(List<RampPoint> some, double irradiance) {
    return RampText.of(settings, some, irradiance);
  }

  @Test
  void withoutARampNothingIsSaid() {
    assertEquals("", words(List.of(), Double.NaN));
  }

  @Test
  void aFewReadingsTellNothing() {
    assertEquals(
        "slow throttle ramp with too few readings to distinguish even from uneven light",
        words(points.subList(0, 5), Double.NaN));
  }

  /** A meter that shows what the ramp shows, half of it, and twice as much. */
  @Test
  void aSunMeterTellsWhatTheArrayDelivers() {
    String alone = words(points, Double.NaN);
    Matcher light = Pattern.compile("the light is ([0-9]+) W/m2").matcher(alone);
    assertTrue(light.find(), alone);
    double irradiance = Double.parseDouble(light.group(1));
    String same = words(points, irradiance);
    assertTrue(same.endsWith(" of its rated current, as rated"), same);
    assertTrue(same.contains("it delivers 100 %") || same.contains("it delivers 99 %"), same);
    String more = words(points, irradiance / 2);
    assertTrue(more.contains("more than rated: check meter and profile"), more);
    String less = words(points, 2 * irradiance);
    assertTrue(less.contains("LESS than rated: dirt, ageing, or a wrong"), less);
  }
}
