package org.solarmargin.cli.tune.rule;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.solarmargin.cli.tune.rule.Recommendation.Kept;

/** When the present rule is kept although another one scores better; at most 1 nuisance an hour. */
class RecommendationTest {

  private static Score score(int missed, int inverted, int late, int nuisances) {
    return score(missed, inverted, late, 6, nuisances);
  }

  private static Score score(int missed, int inverted, int late, double lead, int nuisances) {
    return new Score(20, missed, inverted, late, lead, nuisances, 30, 2);
  }

  @Test
  void aLaterRuleMustStayWithinTheLimitOnFlightsLeftOut() {
    Score present = score(0, 0, 5, 6);
    Score later = score(0, 0, 6, 0);
    assertEquals(Kept.NOT_CONFIRMED, Kept.of(later, present, score(0, 0, 6, 3), 1));
    assertEquals(Kept.NOT, Kept.of(later, present, score(0, 0, 6, 2), 1), "it is confirmed");
    assertEquals(Kept.NOT, Kept.of(later, present, null, 1), "there is one flight only");
    Score missing = score(1, 0, 5, 0);
    assertEquals(Kept.NOT_CONFIRMED, Kept.of(missing, present, score(0, 0, 6, 3), 1));
    Score shorter = score(0, 0, 5, 5.5, 0);
    assertEquals(Kept.NOT_CONFIRMED, Kept.of(shorter, present, score(0, 0, 6, 3), 1));
    Score earlier = score(0, 0, 4, 4);
    assertEquals(Kept.NOT, Kept.of(earlier, present, score(0, 0, 6, 3), 1), "it warns earlier");
  }

  @Test
  void anInvertedRuleMustBeInvertedOnFewerEvents() {
    Score present = score(0, 2, 5, 0);
    assertEquals(Kept.INVERTED, Kept.of(score(0, 2, 5, 0), present, null, 1));
    assertEquals(Kept.INVERTED, Kept.of(score(0, 3, 5, 0), present, null, 1));
    assertEquals(Kept.NOT, Kept.of(score(0, 1, 5, 0), present, null, 1));
  }
}
