package org.solarmargin.cli.tune.rule;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.profile.CraftProfile;

/** Collects flights, evaluates all rules of all levels on each, and chooses. */
public final class Tuner {

  /** With fewer logged events, simulated flights are added: engineering judgement. */
  public static final int FEW_EVENTS = 5;

  private static final LevelRule ANY = new LevelRule(-100, 0, 0, 0, 0);

  private final AlertRules present;
  private final double requiredLead;
  private final double nuisanceLimit;
  private final Map<LevelAim, List<LevelRule>> rules = new EnumMap<>(LevelAim.class);
  private final Map<LevelAim, List<FlightTally>> tallies = new EnumMap<>(LevelAim.class);
  private final VoltageEvidence voltage;
  private double hours;

  public Tuner(CraftProfile profile, double requiredLead, double nuisanceLimit) {
    this.present = profile.rules();
    this.voltage = new VoltageEvidence(profile);
    this.requiredLead = requiredLead;
    this.nuisanceLimit = nuisanceLimit;
    for (LevelAim aim : LevelAim.values()) {
      rules.put(aim, RuleGrid.of(aim, present.of(aim.level())));
      tallies.put(aim, new ArrayList<>());
    }
  }

  /** Number of rules evaluated on each flight, over all levels. */
  public int ruleCount() {
    return rules.values().stream().mapToInt(List::size).sum();
  }

  /** Results of all rules, and of alarms at fixed voltages, on a flight. */
  public record Judged(Map<LevelAim, FlightTally> levels, VoltageEvidence.Tally voltage) {}

  /** Evaluates all rules on a flight; may be called by any thread. */
  public Judged judge(JudgedFlight flight, boolean simulated) {
    Map<LevelAim, FlightTally> result = new EnumMap<>(LevelAim.class);
    for (LevelAim aim : LevelAim.values()) {
      result.put(aim, FlightTally.of(flight, simulated, aim, rules.get(aim)));
    }
    return new Judged(result, voltage.judge(flight));
  }

  /** Adds a result of {@link #judge}; must be called by one thread. */
  public void add(Judged result) {
    result.levels().forEach((aim, tally) -> tallies.get(aim).add(tally));
    voltage.add(result.voltage());
    hours += result.levels().get(LevelAim.WARNING).hours();
  }

  public VoltageEvidence voltage() {
    return voltage;
  }

  public Evidence evidence(LevelAim aim) {
    return new Evidence(aim, rules.get(aim), tallies.get(aim), requiredLead, nuisanceLimit);
  }

  /** Flights in the order added. */
  public List<FlightTally> flights() {
    return tallies.get(LevelAim.WARNING);
  }

  public int realEvents() {
    return flights().stream().filter(f -> !f.simulated()).mapToInt(f -> f.events().size()).sum();
  }

  /** Whether the logs alone have too few events for a choice. */
  public boolean fewEvents() {
    return realEvents() < FEW_EVENTS;
  }

  public double hours() {
    return hours;
  }

  /**
   * The rule below which a level's thresholds must not fall, so that they increase from WARNING to
   * ADVISORY.
   */
  private static LevelRule least(LevelAim aim, AlertRules chosen) {
    return switch (aim) {
      case WARNING -> ANY;
      case CAUTION -> chosen.warning();
      case ADVISORY -> chosen.caution();
    };
  }

  /** Chooses rules from WARNING to ADVISORY and cross-validates the choice. */
  public Recommendation recommend() {
    AlertRules chosen = present;
    Map<LevelAim, Recommendation.Finding> findings = new EnumMap<>(LevelAim.class);
    Recommendation.Finding before = null;
    for (LevelAim aim : LevelAim.values()) {
      Evidence evidence = evidence(aim);
      if (before != null) {
        evidence.precede(before.evidence(), before.chosen());
      }
      LevelRule least = least(aim, chosen);
      int place = evidence.choose(evidence.flights(), least);
      Score validated = evidence.validated(least);
      Recommendation.Kept kept =
          place == Evidence.PRESENT
              ? Recommendation.Kept.AS_GOOD
              : Recommendation.Kept.of(
                  evidence.score(place),
                  evidence.score(Evidence.PRESENT),
                  aim == LevelAim.WARNING ? validated : null,
                  evidence.nuisanceLimit());
      place = kept == Recommendation.Kept.NOT ? place : Evidence.PRESENT;
      chosen = with(chosen, aim.level(), evidence.rules().get(place));
      before = new Recommendation.Finding(evidence, place, kept, evidence.frontier(), validated);
      findings.put(aim, before);
    }
    return new Recommendation(chosen, findings);
  }

  private static AlertRules with(AlertRules rules, AlertLevel level, LevelRule rule) {
    double memory = rules.peakMemorySeconds();
    return switch (level) {
      case WARNING -> {
        LevelRule caution = atLeast(rules.caution(), rule);
        yield new AlertRules(atLeast(rules.advisory(), caution), caution, rule, memory);
      }
      case CAUTION ->
          new AlertRules(atLeast(rules.advisory(), rule), rule, rules.warning(), memory);
      default -> new AlertRules(rule, rules.caution(), rules.warning(), memory);
    };
  }

  private static LevelRule atLeast(LevelRule rule, LevelRule below) {
    return new LevelRule(
        Math.max(rule.marginPercent(), below.marginPercent()),
        Math.max(rule.timeSeconds(), below.timeSeconds()),
        rule.onDelaySeconds(),
        rule.offDelaySeconds(),
        rule.hysteresisPercent());
  }
}
