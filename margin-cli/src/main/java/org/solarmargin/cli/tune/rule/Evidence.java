package org.solarmargin.cli.tune.rule;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.List;
import org.solarmargin.core.alert.LevelRule;

/**
 * The rules of one alert level with the results of each on each flight. The first rule is the
 * present one.
 *
 * <p>CAUTION and ADVISORY are evaluated together with the chosen rule of the level that they must
 * precede. The lead time before an event is the longer of the two. If the level is raised later
 * than the one it should precede, the rule is inverted on that event, unless no rule within the
 * limit of nuisances is raised earlier.
 */
public final class Evidence {

  public static final int PRESENT = 0;

  private static final int MOST_FOLDS = 10;

  private final LevelAim aim;
  private final List<LevelRule> rules;
  private final List<FlightTally> flights;
  private final double requiredLead;
  private final double nuisanceLimit;
  private final IdentityHashMap<FlightTally, float[]> precededLeads = new IdentityHashMap<>();
  private final IdentityHashMap<FlightTally, boolean[]> achievable = new IdentityHashMap<>();

  Evidence(
      LevelAim aim,
      List<LevelRule> rules,
      List<FlightTally> flights,
      double requiredLead,
      double nuisanceLimit) {
    this.aim = aim;
    this.rules = List.copyOf(rules);
    this.flights = List.copyOf(flights);
    this.requiredLead = requiredLead * aim.leadFactor();
    this.nuisanceLimit = nuisanceLimit * aim.nuisanceFactor();
  }

  /**
   * Evaluates from now on together with the chosen rule of the level that this one must precede.
   */
  void precede(Evidence other, int place) {
    List<Integer> acceptable = new ArrayList<>();
    for (int r = 0; r < rules.size(); r++) {
      if (score(r).nuisancesPerHour() <= nuisanceLimit) {
        acceptable.add(r);
      }
    }
    for (int i = 0; i < flights.size(); i++) {
      FlightTally own = flights.get(i);
      int events = own.events().size();
      float[] leads = new float[events];
      boolean[] earlier = new boolean[events];
      for (int e = 0; e < events; e++) {
        leads[e] = other.flights.get(i).lead(place, e);
        for (int r : acceptable) {
          earlier[e] |= orNegative(own.preceding(r, e)) > leads[e];
        }
      }
      precededLeads.put(own, leads);
      achievable.put(own, earlier);
    }
  }

  /** Lead time of this level or the one that it precedes, whichever is longer, at an event. */
  private static float longerLead(FlightTally flight, int rule, int event, float preceded) {
    return Float.isNaN(preceded)
        ? flight.lead(rule, event)
        : (float) Math.max(orNegative(flight.preceding(rule, event)), preceded);
  }

  private static double orNegative(float lead) {
    return Float.isNaN(lead) ? -1 : lead;
  }

  public LevelAim aim() {
    return aim;
  }

  public List<LevelRule> rules() {
    return rules;
  }

  public List<FlightTally> flights() {
    return flights;
  }

  public double requiredLead() {
    return requiredLead;
  }

  public double nuisanceLimit() {
    return nuisanceLimit;
  }

  public Score score(int rule) {
    return score(rule, flights);
  }

  public Score score(int rule, List<FlightTally> of) {
    int events = 0;
    int missed = 0;
    int inverted = 0;
    int late = 0;
    int nuisances = 0;
    int raises = 0;
    double hours = 0;
    int total = of.stream().mapToInt(f -> f.events().size()).sum();
    double[] leads = new double[total];
    for (FlightTally flight : of) {
      for (int e = 0; e < flight.events().size(); e++) {
        float other = precededLeads.isEmpty() ? Float.NaN : precededLeads.get(flight)[e];
        float lead = longerLead(flight, rule, e, other);
        leads[events++] = Float.isNaN(lead) ? 0 : lead;
        missed += Float.isNaN(lead) ? 1 : 0;
        boolean after = orNegative(flight.preceding(rule, e)) < other;
        inverted += after && achievable.get(flight)[e] ? 1 : 0;
        late += lead >= requiredLead ? 0 : 1;
      }
      nuisances += flight.nuisances(rule);
      raises += flight.raises(rule);
      hours += flight.hours();
    }
    Arrays.sort(leads);
    double median = total == 0 ? Double.NaN : leads[total / 2];
    return new Score(events, missed, inverted, late, median, nuisances, raises, hours);
  }

  /**
   * Rules that no other rule dominates in missed events, median lead time and nuisances; among
   * equal ones the one closest to the present rule. In order of increasing nuisances, then missed
   * events.
   */
  List<Integer> frontier() {
    List<Score> scores = new ArrayList<>();
    for (int r = 0; r < rules.size(); r++) {
      scores.add(score(r));
    }
    List<Integer> order = new ArrayList<>();
    for (int r = 0; r < rules.size(); r++) {
      order.add(r);
    }
    order.sort(
        Comparator.comparingInt((Integer r) -> scores.get(r).nuisances())
            .thenComparingInt(r -> scores.get(r).missed())
            .thenComparingDouble(r -> -scores.get(r).leadSeconds())
            .thenComparingDouble(r -> distance(r)));
    List<Integer> kept = new ArrayList<>();
    for (int r : order) {
      boolean dominated = false;
      for (int k : kept) {
        // earlier ones have no more nuisances, so one that is not worse in the rest dominates
        Score s = scores.get(k);
        dominated |=
            s.missed() <= scores.get(r).missed() && !(s.medianLead() < scores.get(r).medianLead());
      }
      if (!dominated) {
        kept.add(r);
      }
    }
    return kept;
  }

  /**
   * The rule to recommend for some flights: within the limit of nuisances if possible, then fewest
   * missed, fewest inverted, fewest late, fewest nuisances, then closest to the present rule.
   *
   * @param least the rule of the level that this one must precede; margin and time must not be
   *     below its values
   * @return index of the rule; that of the present one if no other is permitted
   */
  int choose(List<FlightTally> on, LevelRule least) {
    int best = -1;
    Score bestScore = null;
    for (int r = 0; r < rules.size(); r++) {
      if (rules.get(r).marginPercent() < least.marginPercent()
          || rules.get(r).timeSeconds() < least.timeSeconds()) {
        continue;
      }
      Score score = score(r, on);
      if (best < 0 || better(score, r, bestScore, best)) {
        best = r;
        bestScore = score;
      }
    }
    return Math.max(best, 0);
  }

  private boolean better(Score a, int ruleA, Score b, int ruleB) {
    boolean withinA = a.nuisancesPerHour() <= nuisanceLimit;
    boolean withinB = b.nuisancesPerHour() <= nuisanceLimit;
    if (withinA != withinB) {
      return withinA;
    }
    if (!withinA && a.nuisances() != b.nuisances()) {
      return a.nuisances() < b.nuisances();
    }
    if (a.missed() != b.missed()) {
      return a.missed() < b.missed();
    }
    if (a.inverted() != b.inverted()) {
      return a.inverted() < b.inverted();
    }
    if (a.late() != b.late()) {
      return a.late() < b.late();
    }
    if (a.nuisances() != b.nuisances()) {
      return a.nuisances() < b.nuisances();
    }
    // equal in all counts, so the rule closer to the present one is preferred
    return distance(ruleA) < distance(ruleB);
  }

  /** Distance of a rule from the present one, with each threshold scaled by a typical size. */
  private double distance(int rule) {
    LevelRule a = rules.get(rule);
    LevelRule b = rules.get(PRESENT);
    return Math.abs(a.marginPercent() - b.marginPercent()) / 10
        + Math.abs(a.timeSeconds() - b.timeSeconds()) / 5
        + Math.abs(Math.log((a.onDelaySeconds() + 0.1) / (b.onDelaySeconds() + 0.1)))
        + Math.abs(a.offDelaySeconds() - b.offDelaySeconds()) / 10
        + Math.abs(a.hysteresisPercent() - b.hysteresisPercent()) / 5;
  }

  /**
   * Cross-validation of the choice: each of up to ten parts of the flights is evaluated with the
   * rule chosen on the rest.
   */
  Score validated(LevelRule least) {
    int folds = Math.min(flights.size(), MOST_FOLDS);
    if (folds < 2) {
      return null;
    }
    Score sum = null;
    List<Double> leads = new ArrayList<>();
    for (int fold = 0; fold < folds; fold++) {
      List<FlightTally> rest = new ArrayList<>();
      List<FlightTally> left = new ArrayList<>();
      for (int i = 0; i < flights.size(); i++) {
        (i % folds == fold ? left : rest).add(flights.get(i));
      }
      int chosen = choose(rest, least);
      Score score = score(chosen, left);
      for (FlightTally flight : left) {
        for (int e = 0; e < flight.events().size(); e++) {
          float other = precededLeads.isEmpty() ? Float.NaN : precededLeads.get(flight)[e];
          leads.add(Math.max(orNegative(longerLead(flight, chosen, e, other)), 0));
        }
      }
      sum = sum == null ? score : plus(sum, score);
    }
    leads.sort(Comparator.naturalOrder());
    double median = leads.isEmpty() ? Double.NaN : leads.get(leads.size() / 2);
    return new Score(
        sum.events(),
        sum.missed(),
        sum.inverted(),
        sum.late(),
        median,
        sum.nuisances(),
        sum.raises(),
        sum.hours());
  }

  private static Score plus(Score a, Score b) {
    return new Score(
        a.events() + b.events(),
        a.missed() + b.missed(),
        a.inverted() + b.inverted(),
        a.late() + b.late(),
        Double.NaN,
        a.nuisances() + b.nuisances(),
        a.raises() + b.raises(),
        a.hours() + b.hours());
  }
}
