package org.solarmargin.cli.tune.rule;

import java.util.List;
import java.util.Map;
import org.solarmargin.core.alert.AlertRules;

/**
 * The recommended set of rules, with the findings for each level.
 *
 * @param rules the recommended rules
 * @param findings findings by level
 */
public record Recommendation(AlertRules rules, Map<LevelAim, Finding> findings) {

  /**
   * The finding for one level.
   *
   * @param evidence its rules with their results
   * @param chosen index of the recommended rule
   * @param kept whether the present rule is kept because no rule precedes the level that it should
   * @param frontier indices of the rules that no other dominates
   * @param validated cross-validated score of the choice; null with one flight
   */
  public record Finding(
      Evidence evidence, int chosen, boolean kept, List<Integer> frontier, Score validated) {

    public Finding {
      frontier = List.copyOf(frontier);
    }

    /** Score of the recommended rule. */
    public Score chosenScore() {
      return evidence.score(chosen);
    }
  }

  public Recommendation {
    findings = Map.copyOf(findings);
  }
}
