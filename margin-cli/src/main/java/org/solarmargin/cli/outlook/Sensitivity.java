package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.solarmargin.core.profile.CraftProfile;

/**
 * What a gram, a watt, a kelvin and a percent of light are worth at the best hour: points of margin
 * (percent of hover) and the grams that are worth as much.
 */
final class Sensitivity {

  /** Small beside the craft and large beside rounding. */
  private static final double STEP_KILOGRAMS = 0.001;

  /** A unit more and what it is worth. */
  record Worth(String words, double points, double grams) {}

  private Sensitivity() {}

  /** Worth of a gram less (where the mass is known), a watt less, a kelvin less, a percent more. */
  static List<Worth> of(DayQuestion asked, List<String> text) throws IOException {
    CraftProfile profile = asked.profile();
    int series = profile.settings().seriesCells();
    int strings = profile.settings().parallelStrings();
    WhatIf changes = new WhatIf(asked, text);
    double now = best(asked);
    boolean knowsMass = profile.massKilograms() > 2 * STEP_KILOGRAMS;
    double gram =
        knowsMass
            ? best(asked.with(changes.craft(series, strings, -STEP_KILOGRAMS, 1, 0))) - now
            : Double.NaN;
    // a watt more, turned about: housekeeping may be nothing
    double watt = now - best(asked.with(changes.craft(series, strings, 0, 1, 1)));
    double kelvin = now - best(asked.with(asked.weather().warmer(1)));
    double light = now - best(asked.with(asked.weather().hazier(0.01)));
    List<Worth> list = new ArrayList<>();
    if (knowsMass) {
      list.add(new Worth("a gram less", gram, 1));
    }
    list.add(new Worth("a watt of housekeeping less", watt, watt / gram));
    list.add(new Worth("a kelvin cooler", kelvin, kelvin / gram));
    list.add(new Worth("a percent more light (dirt, haze)", light, light / gram));
    return list;
  }

  private static double best(DayQuestion question) {
    return question.moments().stream()
        .max(Comparator.comparingDouble(Moment::marginPercent))
        .map(Moment::marginPercent)
        .orElse(0.0);
  }
}
