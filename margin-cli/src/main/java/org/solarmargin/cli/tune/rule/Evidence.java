package org.solarmargin.cli.tune.rule;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.List;
import org.solarmargin.core.alert.LevelRule;

/**
 * One level's rules and what each did on each flight. The first rule is the present one.
 *
 * <p>A level above WARNING is judged beside the chosen rule of the one that it must precede: what
 * is told of an event is the higher of both, so the lead is the longer one, and a rule under which
 * the level stands later than the one it should precede is inverted there, unless no rule within
 * the nuisances borne stands earlier: the fade does not allow it.
 */
public final class Evidence {

  public static final int PRESENT = 0;

  private static final int MOST_FOLDS = 10;

  private final LevelAim aim;
  private final List<LevelRule> rules;
  private final List<FlightTally> flights;
  private final double leadAsked;
  private final double nuisancesBorne;
  private final IdentityHashMap<FlightTally, float[]> precededLeads = new IdentityHashMap<>();
  private final IdentityHashMap<FlightTally, boolean[]> allowed = new IdentityHashMap<>();

  Evidence(
      LevelAim aim,
      List<LevelRule> rules,
      List<FlightTally> flights,
      double leadAsked,
      double nuisancesBorne) {
    this.aim = aim;
    this.rules = List.copyOf(rules);
    this.flights = List.copyOf(flights);
    this.leadAsked = leadAsked * aim.leadFactor();
    this.nuisancesBorne = nuisancesBorne * aim.nuisanceFactor();
  }

  /** Judges from now on beside the chosen rule of the level that this one must precede. */
  void precede(Evidence other, int place) {
    List<Integer> bearable = new ArrayList<>();
    for (int r = 0; r < rules.size(); r++) {
      if (score(r).nuisancesPerHour() <= nuisancesBorne) {
        bearable.add(r);
      }
    }
    for (int i = 0; i < flights.size(); i++) {
      FlightTally own = flights.get(i);
      int events = own.events().size();
      float[] leads = new float[events];
      boolean[] earlier = new boolean[events];
      for (int e = 0; e < events; e++) {
        leads[e] = other.flights.get(i).lead(place, e);
        for (int r : bearable) {
          earlier[e] |= stood(own.preceding(r, e)) > leads[e];
        }
      }
      precededLeads.put(own, leads);
      allowed.put(own, earlier);
    }
  }

  /** How long this level, or the one that it precedes, had been told of at an event. */
  private static float told(FlightTally flight, int rule, int event, float preceded) {
    return Float.isNaN(preceded)
        ? flight.lead(rule, event)
        : (float) Math.max(stood(flight.preceding(rule, event)), preceded);
  }

  private static double stood(float lead) {
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

  public double leadAsked() {
    return leadAsked;
  }

  public double nuisancesBorne() {
    return nuisancesBorne;
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
        float lead = told(flight, rule, e, other);
        leads[events++] = Float.isNaN(lead) ? 0 : lead;
        missed += Float.isNaN(lead) ? 1 : 0;
        boolean after = stood(flight.preceding(rule, e)) < other;
        inverted += after && allowed.get(flight)[e] ? 1 : 0;
        late += lead >= leadAsked ? 0 : 1;
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
   * Rules that no other rule beats in missed events, median lead and nuisances; of equal ones the
   * one closest to the present. By rising nuisances, then missed events.
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
      boolean beaten = false;
      for (int k : kept) {
        // whoever comes earlier has no more nuisances: equal or better in the rest beats
        Score s = scores.get(k);
        beaten |=
            s.missed() <= scores.get(r).missed() && !(s.medianLead() < scores.get(r).medianLead());
      }
      if (!beaten) {
        kept.add(r);
      }
    }
    return kept;
  }

  /**
   * The rule to recommend on some flights: within the nuisances borne if any is, fewest missed,
   * then fewest inverted, then fewest late, then fewest nuisances, then closest to the present.
   *
   * @param least the rule of the level that this one must precede, below whose margin and time none
   *     is to be chosen
   * @return place of the rule; the present one if no other may be chosen
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
    boolean bearA = a.nuisancesPerHour() <= nuisancesBorne;
    boolean bearB = b.nuisancesPerHour() <= nuisancesBorne;
    if (bearA != bearB) {
      return bearA;
    }
    if (!bearA && a.nuisances() != b.nuisances()) {
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
    // equal in all that was counted: nothing speaks for leaving the present rule
    return distance(ruleA) < distance(ruleB);
  }

  /** How far a rule is from the present one, each threshold over its usual size. */
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
   * What the choice does on flights that did not choose it: each of up to ten parts is judged by
   * the rule chosen on the rest.
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
          leads.add(Math.max(stood(told(flight, chosen, e, other)), 0));
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
