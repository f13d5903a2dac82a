package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** When two filters in series are tried, which, and when they replace one. */
class FiltersInSeriesTest {

  private static final double CLOSE = 1e-12;
  private static final double[] SECONDS = {
    0.03, 0.045, 0.06, 0.08, 0.1, 0.125, 0.16, 0.2, 0.25,
  };

  private final FiltersInSeries filters = new FiltersInSeries();
  private final TimingPoint best = new TimingPoint();
  private final TimingPoint trial = new TimingPoint();

  private boolean start(double voltsFilter, double ampsFilter, double correlation, double fresh) {
    best.setFilters(0);
    best.setSeconds(TimingPoint.VOLTS, voltsFilter);
    best.setSeconds(TimingPoint.AMPS, ampsFilter);
    return filters.start(best, correlation, fresh, trial);
  }

  @Test
  void theyAreTriedForACorrelationBehindFiltersOfFastReadings() {
    assertTrue(start(0.3, 0.3, 0.0201, 0.0599));
    assertFalse(start(0.3, 0.3, 0.02, 0.02), "the correlation of a single filter");
    assertFalse(start(0.3, 0.3, Double.NaN, 0.02), "no correlation known");
    assertFalse(start(0.3, 0.3, 0.05, 0.06), "slow readings");
    assertTrue(start(0.031, 0.031, 0.05, 0.02));
    assertFalse(start(0.029, 0.3, 0.05, 0.02), "no filter of the voltage");
    assertFalse(start(0.3, 0.029, 0.05, 0.02), "no filter of the current");
  }

  /** The first filter is half as long as the second, or as long. */
  @Test
  void allPairsAreTried() {
    boolean more = start(1, 1, 0.05, 0.02);
    for (double seconds : SECONDS) {
      for (double ratio : new double[] {0.5, 1}) {
        assertTrue(more);
        assertEquals(seconds, trial.seconds(TimingPoint.VOLTS), CLOSE);
        assertEquals(seconds, trial.seconds(TimingPoint.AMPS), CLOSE);
        assertEquals(ratio * seconds, trial.seconds(TimingPoint.COMMAND_LAG), CLOSE);
        assertEquals(0, trial.get(TimingPoint.AMPS_DELAY));
        assertEquals(0, trial.get(TimingPoint.COMMAND_DELAY));
        trial.set(TimingPoint.AMPS_DELAY, 7);
        more = filters.next(1, best, trial);
      }
    }
    assertFalse(more);
    assertEquals(1, best.seconds(TimingPoint.VOLTS), CLOSE);
  }

  @Test
  void halfTheCorrelationIsRequiredAndThenTheLeastIsTaken() {
    start(0.3, 0.3, 0.0625, 0.02);
    filters.next(0.03125, best, trial);
    assertEquals(0.3, best.seconds(TimingPoint.VOLTS), CLOSE);
    assertEquals(0, best.seconds(TimingPoint.COMMAND_LAG), CLOSE);
    filters.next(Math.nextDown(0.03125), best, trial);
    assertEquals(0.03, best.seconds(TimingPoint.VOLTS), CLOSE);
    assertEquals(0.03, best.seconds(TimingPoint.COMMAND_LAG), CLOSE);
    filters.next(0.02, best, trial);
    assertEquals(0.045, best.seconds(TimingPoint.VOLTS), CLOSE);
    filters.next(0.02, best, trial);
    filters.next(0.025, best, trial);
    filters.next(Double.NaN, best, trial);
    assertEquals(0.0225, best.seconds(TimingPoint.COMMAND_LAG), CLOSE);
  }

  /** Together they are shorter than the single filter, which was too long. */
  @Test
  void togetherTheyAreShorterThanTheOneThatTheyReplace() {
    start(0.3, 0.08, 0.0625, 0.02);
    double correlation = 0.03;
    boolean more = true;
    while (more) {
      correlation -= 0.001;
      more = filters.next(correlation, best, trial);
    }
    // 0.045 + 0.0225 s; 0.045 + 0.045 s are more than 0.08 s
    assertEquals(0.045, best.seconds(TimingPoint.VOLTS), CLOSE);
    assertEquals(0.0225, best.seconds(TimingPoint.COMMAND_LAG), CLOSE);
  }
}
