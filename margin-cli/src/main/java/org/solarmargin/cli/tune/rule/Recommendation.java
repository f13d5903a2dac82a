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

  /** Why the present rule of a level is kept. */
  public enum Kept {
    /** It is not: another one is better. */
    NOT,
    /** No rule tried is better. */
    AS_GOOD,
    /** No rule precedes the level that it should on more events. */
    INVERTED,
    /**
     * The best rule tried misses or is late on more events than the present one, or its median lead
     * is shorter, and it exceeds the limit of nuisances on flights left out all the same.
     */
    NOT_CONFIRMED;

    /**
     * Whether the present rule is kept although another one was chosen.
     *
     * @param validated cross-validated score of the choice of a WARNING; null for other levels and
     *     with one flight
     */
    static Kept of(Score chosen, Score present, Score validated, double nuisanceLimit) {
      if (chosen.inverted() > 0 && chosen.inverted() >= present.inverted()) {
        return INVERTED;
      }
      boolean later =
          chosen.missed() > present.missed()
              || chosen.late() > present.late()
              || chosen.medianLead() < present.medianLead();
      boolean exceeds = validated != null && validated.nuisancesPerHour() > nuisanceLimit;
      return later && exceeds ? NOT_CONFIRMED : NOT;
    }
  }

  /**
   * The finding for one level.
   *
   * @param evidence its rules with their results
   * @param chosen index of the recommended rule
   * @param kept why the present rule is kept, if it is
   * @param frontier indices of the rules that no other dominates
   * @param validated cross-validated score of the choice; null with one flight
   */
  public record Finding(
      Evidence evidence, int chosen, Kept kept, List<Integer> frontier, Score validated) {

    public Finding {
      frontier = List.copyOf(frontier);
    }

    /** Why this rule is recommended, as a sentence; empty if it is simply the best one. */
    public String reason() {
      Score here = chosenScore();
      return switch (kept) {
        case NOT ->
            here.nuisancesPerHour() > evidence.nuisanceLimit()
                ? "No rule tried stays within the limit of nuisances; this one has the fewest."
                : "";
        case AS_GOOD -> "The present rule is kept: no rule tried within the limit is better.";
        case INVERTED ->
            "NO RULE within the limit of nuisances precedes the next level on more events than the"
                + " present one, which is kept; it is later than the next level on "
                + here.inverted()
                + " of "
                + here.events()
                + ".";
        case NOT_CONFIRMED ->
            "The present rule is kept: the best one tried warns later, and on flights left out it"
                + " exceeds the limit of nuisances all the same.";
      };
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
