package org.solarmargin.cli.tune.rule;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.solarmargin.core.alert.LevelRule;

/**
 * The rules that are tried for each level, including the present one. CAUTION is cleared as soon as
 * its condition ends, so its off-delay is not varied. Rows: margin, time, on-delay, off-delay,
 * hysteresis; the values are engineering judgement.
 */
final class RuleGrid {

  private static final double[][] WARNING = {
    {0, 2, 4, 6, 8, 9, 10, 12, 15, 18, 22, 26},
    {0, 2, 3.5, 5, 8, 12},
    {0.1, 0.2, 0.4, 0.8},
    {5, 10, 20},
    {3, 6, 10}
  };
  private static final double[][] CAUTION = {
    {8, 12, 16, 20, 24, 30, 36, 44},
    {0, 6, 10, 15, 22},
    {0.2, 0.4, 0.8, 1.6},
    {0},
    {4, 8}
  };
  private static final double[][] ADVISORY = {
    {16, 22, 28, 34, 42, 50, 60, 75},
    {0, 20, 40},
    {1, 2, 4},
    {0, 3},
    {5}
  };

  private RuleGrid() {}

  /** All rules of a level; the first is the present one. */
  static List<LevelRule> of(LevelAim aim, LevelRule present) {
    double[][] axes =
        switch (aim) {
          case WARNING -> WARNING;
          case CAUTION -> CAUTION;
          case ADVISORY -> ADVISORY;
        };
    Set<LevelRule> rules = new LinkedHashSet<>();
    rules.add(present);
    for (double margin : axes[0]) {
      for (double time : axes[1]) {
        for (double on : axes[2]) {
          for (double off : axes[3]) {
            for (double hysteresis : axes[4]) {
              rules.add(new LevelRule(margin, time, on, off, hysteresis));
            }
          }
        }
      }
    }
    return new ArrayList<>(rules);
  }
}
