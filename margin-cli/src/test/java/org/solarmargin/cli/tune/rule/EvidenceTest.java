package org.solarmargin.cli.tune.rule;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.tune.SimulatedFlights;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.profile.CraftProfile;

/** Frontier and choice against brute force over the same rules. */
class EvidenceTest {

  private static final int FLIGHTS = 9;
  private static final LevelRule ANY = new LevelRule(-100, 0, 0, 0, 0);

  private static Evidence evidence;
  private static List<JudgedFlight> flights;

  @BeforeAll
  static void fly() throws IOException {
    CraftProfile profile = CraftProfile.read(Cli.STILT);
    List<LevelRule> rules = RuleGrid.of(LevelAim.WARNING, profile.rules().warning());
    flights = new ArrayList<>();
    List<FlightTally> tallies = new ArrayList<>();
    for (int i = 0; i < FLIGHTS; i++) {
      JudgedFlight flight = SimulatedFlights.fly(profile, i);
      flights.add(flight);
      tallies.add(FlightTally.of(flight, true, LevelAim.WARNING, rules));
    }
    evidence = new Evidence(LevelAim.WARNING, rules, tallies, 5, 1);
  }

  /** Judges each rule separately, without shortcuts. */
  private static List<String> bruteForce() {
    List<double[]> points = new ArrayList<>();
    for (LevelRule rule : evidence.rules()) {
      int missed = 0;
      int nuisances = 0;
      List<Double> leads = new ArrayList<>();
      for (JudgedFlight flight : flights) {
        LevelReplay replay = new LevelReplay(flight, LevelAim.WARNING);
        replay.judge(rule);
        nuisances += replay.nuisances();
        for (int e = 0; e < flight.events().size(); e++) {
          boolean raised = !Float.isNaN(replay.lead(e));
          missed += raised ? 0 : 1;
          leads.add(raised ? (double) replay.lead(e) : 0.0);
        }
      }
      leads.sort(null);
      points.add(new double[] {missed, nuisances, leads.get(leads.size() / 2)});
    }
    Set<String> best = new TreeSet<>();
    for (double[] a : points) {
      boolean dominated = false;
      for (double[] b : points) {
        boolean noWorse = b[0] <= a[0] && b[1] <= a[1] && b[2] >= a[2];
        dominated |= noWorse && (b[0] < a[0] || b[1] < a[1] || b[2] > a[2]);
      }
      if (!dominated) {
        best.add(a[0] + " " + a[1] + " " + a[2]);
      }
    }
    return new ArrayList<>(best);
  }

  @Test
  void theFrontierAgreesWithBruteForce() {
    Set<String> found = new TreeSet<>();
    for (int rule : evidence.frontier()) {
      Score s = evidence.score(rule);
      found.add((double) s.missed() + " " + (double) s.nuisances() + " " + s.medianLead());
    }
    assertEquals(bruteForce(), new ArrayList<>(found));
    assertTrue(found.size() > 1, "a frontier of one rule would show nothing");
  }

  @Test
  void noRuleWithinTheLimitMissesFewerThanTheChosenOne() {
    Score chosen = evidence.score(evidence.choose(evidence.flights(), ANY));
    for (int r = 0; r < evidence.rules().size(); r++) {
      Score s = evidence.score(r);
      boolean acceptable = s.nuisancesPerHour() <= evidence.nuisanceLimit();
      assertFalse(acceptable && s.missed() < chosen.missed(), "rule " + evidence.rules().get(r));
      assertFalse(acceptable && s.missed() == chosen.missed() && s.late() < chosen.late());
    }
    assertTrue(chosen.nuisancesPerHour() <= evidence.nuisanceLimit());
  }

  @Test
  void crossValidationJudgesEveryFlightOnce() {
    Score validated = evidence.validated(ANY);
    Score all = evidence.score(0);
    assertEquals(all.events(), validated.events());
    assertEquals(all.hours(), validated.hours(), 1e-9);
  }

  /** SciPy 1.17.1: beta.ppf(0.95, k+1, n-k) and gamma.ppf(0.95, k+1). */
  @Test
  void limitsOfFewCountsAreExact() {
    assertEquals(0.258866, ConfidenceLimits.shareAtMost(0, 10), 1e-5);
    assertEquals(0.394163, ConfidenceLimits.shareAtMost(1, 10), 1e-5);
    assertEquals(1, ConfidenceLimits.shareAtMost(0, 0));
    assertEquals(2.995732, ConfidenceLimits.rateAtMost(0, 1), 1e-5);
    assertEquals(4.743865 / 2, ConfidenceLimits.rateAtMost(1, 2), 1e-5);
  }
}
