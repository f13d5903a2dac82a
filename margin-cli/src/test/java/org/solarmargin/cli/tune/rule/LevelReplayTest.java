package org.solarmargin.cli.tune.rule;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.tune.SimulatedFlights;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.AlertMonitor;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.alert.FlightPhase;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.alert.PowerFigures;
import org.solarmargin.core.profile.CraftProfile;

/** Compares the fast evaluation with the alert monitor, fed the same blocks. */
class LevelReplayTest {

  private static final LevelRule[] RULES = {
    new LevelRule(9, 5, 0.2, 10, 6),
    new LevelRule(26, 0, 0.1, 5, 3),
    new LevelRule(15, 12, 0.8, 20, 10),
    new LevelRule(0, 2, 0.4, 5, 3),
    new LevelRule(40, 40, 0.1, 0, 0)
  };

  /** The rule for one level, with rules for the others that cannot raise before it does. */
  private static AlertRules alone(AlertLevel level, LevelRule rule) {
    // the lower levels have the longest persistence, so that they are never raised before this one
    LevelRule late = new LevelRule(rule.marginPercent(), 0, 60, 0, 0);
    LevelRule never = new LevelRule(0, 0, 60, 0, 0);
    return switch (level) {
      case WARNING -> new AlertRules(late, late, rule, 10);
      case CAUTION -> new AlertRules(late, rule, never, 10);
      default -> new AlertRules(rule, never, never, 10);
    };
  }

  /** Times a level was raised by the core's monitor when only its rule can raise first. */
  private static List<Double> raises(JudgedFlight flight, AlertLevel judged, LevelRule rule) {
    List<Double> raised = new ArrayList<>();
    AlertMonitor monitor =
        new AlertMonitor(
            alone(judged, rule),
            (time, level, isRaised, why, m, z) -> {
              if (isRaised && level == judged) {
                raised.add(time * 1e-9);
              }
            });
    double before = 0;
    for (int i = 0; i < flight.size(); i++) {
      double now = flight.seconds(i);
      int flags = flight.flags(i);
      boolean gone = (flags & JudgedFlight.GONE) != 0;
      // with a demand of 100 and no longer memory of peaks, the margin is the block's
      monitor.update(
          Math.round(now * 1e9),
          now - before,
          phase(flags),
          new Figures(gone ? 50 : 1e9, 100 + flight.margin(i), 100, flight.toZero(i)));
      before = now;
    }
    return raised;
  }

  private record Figures(
      double availableWatts,
      double availableLowWatts,
      double steadyDemandWatts,
      double secondsToZero)
      implements PowerFigures {}

  private static FlightPhase phase(int flags) {
    if ((flags & JudgedFlight.GROUNDED) != 0) {
      return FlightPhase.GROUNDED;
    }
    if ((flags & JudgedFlight.BLIND) != 0) {
      return FlightPhase.BLIND;
    }
    if ((flags & JudgedFlight.KNEE) != 0) {
      return FlightPhase.PAST_KNEE;
    }
    return (flags & JudgedFlight.TRUSTED) != 0 ? FlightPhase.TRUSTED : FlightPhase.UNTRUSTED;
  }

  @Test
  void raisesAreThoseOfTheMonitor() throws IOException {
    CraftProfile profile = CraftProfile.read(Cli.STILT);
    int[] raises = new int[LevelAim.values().length];
    for (int number = 0; number < 6; number++) {
      JudgedFlight flight = SimulatedFlights.fly(profile, number);
      assertTrue(flight.size() > 400, "blocks " + flight.size());
      for (LevelAim aim : LevelAim.values()) {
        // past the knee a WARNING, which needs no rule there, hides the levels below it
        if (aim == LevelAim.WARNING || !everPastTheKnee(flight)) {
          raises[aim.ordinal()] += judged(flight, aim);
        }
      }
    }
    assertTrue(raises[LevelAim.WARNING.ordinal()] > 20, "raises " + Arrays.toString(raises));
    assertTrue(raises[LevelAim.CAUTION.ordinal()] > 5, "raises " + Arrays.toString(raises));
    assertTrue(raises[LevelAim.ADVISORY.ordinal()] > 5, "raises " + Arrays.toString(raises));
  }

  private static boolean everPastTheKnee(JudgedFlight flight) {
    int flags = 0;
    for (int i = 0; i < flight.size(); i++) {
      flags |= flight.flags(i);
    }
    return (flags & (JudgedFlight.KNEE | JudgedFlight.GONE)) != 0;
  }

  /**
   * Compares all rules for one level of a flight with the monitor; returns how often they raised.
   */
  private static int judged(JudgedFlight flight, LevelAim aim) {
    int raises = 0;
    LevelReplay fast = new LevelReplay(flight, aim);
    for (LevelRule rule : RULES) {
      String name = flight.name() + " " + aim + " " + rule;
      fast.judge(rule);
      List<Double> slow = raises(flight, aim.level(), rule);
      assertEquals(slow.size(), fast.raises(), name);
      for (int e = 0; e < flight.events().size(); e++) {
        double onset = flight.seconds(flight.eventBlock(e));
        double last =
            slow.stream().mapToDouble(r -> r).filter(r -> r < onset).max().orElse(Double.NaN);
        if (!Float.isNaN(fast.lead(e))) {
          assertEquals(onset - last, fast.lead(e), 0.01, name);
        }
      }
      for (float nuisance : fast.nuisanceTimes()) {
        assertTrue(slow.stream().anyMatch(r -> Math.abs(r - nuisance) < 0.01), name);
      }
      raises += slow.size();
    }
    return raises;
  }
}
