package org.solarmargin.cli.tune.rule;

import java.util.List;
import java.util.Map;
import org.solarmargin.core.alert.AlertRules;

/**
 * The set of rules to recommend, and what was found on the way, level by level.
 *
 * @param rules the set
 * @param findings one for each level
 */
public record Recommendation(AlertRules rules, Map<LevelAim, Finding> findings) {

  /**
   * What was found of one level.
   *
   * @param evidence its rules and what each did
   * @param chosen place of the recommended rule
   * @param kept whether it is the present one, for want of a rule that precedes the level it should
   * @param frontier places of the rules that no other beats
   * @param validated what the way of choosing does on flights that did not choose; null with one
   *     flight
   */
  public record Finding(
      Evidence evidence, int chosen, boolean kept, List<Integer> frontier, Score validated) {

    public Finding {
      frontier = List.copyOf(frontier);
    }

    /** What the recommended rule did. */
    public Score chosenScore() {
      return evidence.score(chosen);
    }
  }

  public Recommendation {
    findings = Map.copyOf(findings);
  }
}
