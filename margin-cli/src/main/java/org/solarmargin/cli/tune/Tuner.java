package org.solarmargin.cli.tune;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.LevelRule;

/** Gathers flights, judges all rules of all levels on each, and chooses. */
final class Tuner {

  /** Fewer logged events than these say little. */
  static final int FEW_EVENTS = 5;

  private final AlertRules present;
  private final double leadAsked;
  private final double nuisancesBorne;
  private final Map<LevelAim, List<LevelRule>> rules = new EnumMap<>(LevelAim.class);
  private final Map<LevelAim, List<FlightTally>> tallies = new EnumMap<>(LevelAim.class);
  private double hours;

  Tuner(AlertRules present, double leadAsked, double nuisancesBorne) {
    this.present = present;
    this.leadAsked = leadAsked;
    this.nuisancesBorne = nuisancesBorne;
    for (LevelAim aim : LevelAim.values()) {
      rules.put(aim, RuleGrid.of(aim, present.of(aim.level())));
      tallies.put(aim, new ArrayList<>());
    }
  }

  /** Rules judged on each flight, all levels together. */
  int ruleCount() {
    return rules.values().stream().mapToInt(List::size).sum();
  }

  /** Judges all rules on a flight; any thread. */
  Map<LevelAim, FlightTally> judge(JudgedFlight flight, boolean simulated) {
    Map<LevelAim, FlightTally> result = new EnumMap<>(LevelAim.class);
    for (LevelAim aim : LevelAim.values()) {
      result.put(aim, FlightTally.of(flight, simulated, aim, rules.get(aim)));
    }
    return result;
  }

  /** Takes what {@link #judge} gave; one thread. */
  void add(Map<LevelAim, FlightTally> result) {
    result.forEach((aim, tally) -> tallies.get(aim).add(tally));
    hours += result.get(LevelAim.WARNING).hours();
  }

  Evidence evidence(LevelAim aim) {
    return new Evidence(aim, rules.get(aim), tallies.get(aim), leadAsked, nuisancesBorne);
  }

  /** Flights in the order added. */
  List<FlightTally> flights() {
    return tallies.get(LevelAim.WARNING);
  }

  int realEvents() {
    return flights().stream().filter(f -> !f.simulated()).mapToInt(f -> f.events().size()).sum();
  }

  /** Whether the logs alone hold too few events to choose by. */
  boolean fewEvents() {
    return realEvents() < FEW_EVENTS;
  }

  double hours() {
    return hours;
  }

  /** Least margin open to a level, so that margins rise from WARNING to ADVISORY. */
  private static double leastMargin(LevelAim aim, AlertRules chosen) {
    return switch (aim) {
      case WARNING -> Double.NEGATIVE_INFINITY;
      case CAUTION -> chosen.warning().marginPercent();
      case ADVISORY -> chosen.caution().marginPercent();
    };
  }

  /** Chooses, from WARNING up, and looks how well that way of choosing does. */
  Recommendation recommend() {
    AlertRules chosen = present;
    Map<LevelAim, Recommendation.Finding> findings = new EnumMap<>(LevelAim.class);
    for (LevelAim aim : LevelAim.values()) {
      Evidence evidence = evidence(aim);
      double leastMargin = leastMargin(aim, chosen);
      int place = evidence.choose(evidence.flights(), leastMargin);
      chosen = with(chosen, aim.level(), evidence.rules().get(place));
      findings.put(
          aim,
          new Recommendation.Finding(
              evidence, place, evidence.frontier(), evidence.validated(leastMargin)));
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
        rule.timeSeconds(),
        rule.onDelaySeconds(),
        rule.offDelaySeconds(),
        rule.hysteresisPercent());
  }
}
