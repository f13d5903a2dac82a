package org.solarmargin.cli.tune.rule;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.Cli;
import org.solarmargin.cli.tune.SimulatedFlights;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.alert.LevelRule;
import org.solarmargin.core.profile.CraftProfile;

/** Recommended levels are ordered by threshold, and by their effect on the judged flights. */
class LevelOrderTest {

  private static void assertRises(LevelRule lower, LevelRule higher) {
    assertTrue(lower.marginPercent() <= higher.marginPercent(), lower + " " + higher);
    assertTrue(lower.timeSeconds() <= higher.timeSeconds(), lower + " " + higher);
  }

  @Test
  void cautionIsRaisedNoLaterThanWarningWherePossible() throws IOException {
    CraftProfile profile = CraftProfile.read(Cli.STILT);
    Tuner tuner = new Tuner(profile, 5, 1);
    for (int i = 0; i < 18; i++) {
      tuner.add(tuner.judge(SimulatedFlights.fly(profile, i), true));
    }
    Recommendation found = tuner.recommend();
    assertRises(found.rules().of(AlertLevel.WARNING), found.rules().of(AlertLevel.CAUTION));
    int events = 0;
    double lead = 0;
    for (LevelAim aim : LevelAim.values()) {
      Score score = found.findings().get(aim).chosenScore();
      events = score.events();
      assertTrue(score.inverted() <= 0.2 * score.events(), aim + " " + score);
      assertTrue(score.medianLead() >= lead, aim + " is raised later than the next: " + score);
      lead = score.medianLead();
    }
    assertEquals(12, events);
  }
}
