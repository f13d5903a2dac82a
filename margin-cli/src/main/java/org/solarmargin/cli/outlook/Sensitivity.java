package org.solarmargin.cli.outlook;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.solarmargin.core.profile.CraftProfile;

/**
 * Effect of a gram, a watt, a kelvin and a percent of light at the best hour: percentage points of
 * margin (of hover power), and the grams with the same effect.
 */
final class Sensitivity {

  /** Small relative to the craft and large relative to rounding. */
  private static final double STEP_KILOGRAMS = 0.001;

  /** A change by one unit and its effect. */
  record Effect(String words, double points, double grams) {}

  private Sensitivity() {}

  /**
   * Effects of a gram less (where the mass is known), a watt less, a kelvin less, and a percent
   * more light.
   */
  static List<Effect> of(DayQuestion asked, List<String> text) throws IOException {
    CraftProfile profile = asked.profile();
    int series = profile.settings().seriesCells();
    int strings = profile.settings().parallelStrings();
    WhatIf changes = new WhatIf(asked, text);
    double now = best(asked);
    boolean massKnown = profile.massKilograms() > 2 * STEP_KILOGRAMS;
    double gram =
        massKnown
            ? best(asked.with(changes.craft(series, strings, -STEP_KILOGRAMS, 1, 0))) - now
            : Double.NaN;
    // the effect of a watt more with its sign reversed, because housekeeping may be zero
    double watt = now - best(asked.with(changes.craft(series, strings, 0, 1, 1)));
    double kelvin = now - best(asked.with(asked.weather().warmer(1)));
    double light = now - best(asked.with(asked.weather().hazier(0.01)));
    List<Effect> list = new ArrayList<>();
    if (massKnown) {
      list.add(new Effect("a gram less", gram, 1));
    }
    list.add(new Effect("a watt of housekeeping less", watt, watt / gram));
    list.add(new Effect("a kelvin cooler", kelvin, kelvin / gram));
    list.add(new Effect("a percent more light (dirt, haze)", light, light / gram));
    return list;
  }

  private static double best(DayQuestion question) {
    return question.moments().stream()
        .max(Comparator.comparingDouble(Moment::marginPercent))
        .map(Moment::marginPercent)
        .orElse(0.0);
  }
}
