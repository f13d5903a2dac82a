package org.solarmargin.sim.trial;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** A warning was a nuisance if 15 % margin was kept for the ten seconds after it. */
class NuisanceCountTest {

  private static final double NO_LOSS = Double.NaN;

  /** One alarm at 5 s; the ratio is low in one second. */
  private static int counted(double lowAt, boolean airborne, double loss) {
    NuisanceCount count = new NuisanceCount();
    count.raised(5);
    for (int t = 5; t <= 40; t++) {
      count.follow(t, airborne, t == lowAt ? 1.1 : 1.3);
    }
    return count.count(loss);
  }

  @Test
  void withMarginForTenSecondsItWas() {
    assertEquals(1, counted(-1, true, NO_LOSS));
    assertEquals(1, counted(16, true, NO_LOSS), "a lack of margin after eleven seconds is late");
  }

  @Test
  void withoutItWasNot() {
    assertEquals(0, counted(6, true, NO_LOSS));
    assertEquals(0, counted(15, true, NO_LOSS));
    assertEquals(1, counted(6, false, NO_LOSS), "on the ground nothing lacks");
  }

  @Test
  void withinHalfAMinuteBeforeALossItIsExcused() {
    assertEquals(0, counted(-1, true, 35));
    assertEquals(1, counted(-1, true, 36));
  }

  @Test
  void anAlarmWhoseTimeIsNotOverIsNone() {
    NuisanceCount count = new NuisanceCount();
    count.raised(5);
    count.follow(15, true, 2);
    assertEquals(0, count.count(NO_LOSS));
    count.raised(15.5);
    count.follow(15.5, true, 2);
    assertEquals(1, count.count(NO_LOSS), "the first is over, the second is not");
  }
}
