package org.solarmargin.core.estimator;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** The candidates of the scan, as its description lists them. */
class TimingScanTest {

  private static final double INTERVAL = 0.0625;
  private static final double[] FILTERS = {0, 0.03, 0.06, 0.1, 0.16, 0.25, 0.4, 0.63, 1, 1.6};

  private final TimingScan scan = new TimingScan();
  private final TimingPoint best = new TimingPoint();
  private final TimingPoint trial = new TimingPoint();

  /** Filters of both readings, delays in intervals, noise behind the filter relative to stated. */
  private void assertTrial(double filter, double ampsDelay, double commandDelay, double noise) {
    assertEquals(filter, trial.seconds(TimingPoint.VOLTS), 1e-12);
    assertEquals(filter, trial.seconds(TimingPoint.AMPS), 1e-12);
    assertEquals(0, trial.seconds(TimingPoint.COMMAND_LAG));
    assertEquals(ampsDelay * INTERVAL, trial.get(TimingPoint.AMPS_DELAY));
    assertEquals(commandDelay * INTERVAL, trial.get(TimingPoint.COMMAND_DELAY));
    assertEquals(noise, Math.exp(trial.get(TimingPoint.READOUT)) - 0.03, 1e-12);
  }

  private void assertNext(double filter, double ampsDelay, double commandDelay, double noise) {
    assertTrue(scan.next(best, trial));
    assertTrial(filter, ampsDelay, commandDelay, noise);
    // nothing of one candidate remains in the next
    trial.set(TimingPoint.COMMAND_LAG, 7);
    trial.set(TimingPoint.COMMAND_DELAY, 7);
  }

  private void assertScan() {
    trial.set(TimingPoint.AMPS_DELAY, 7);
    scan.start(INTERVAL, trial);
    assertTrial(0, 0, 0, 0);
    for (int delay : new int[] {-6, -5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6, 8}) {
      assertNext(0, delay, 0, 0);
    }
    best.setFilters(0);
    best.set(TimingPoint.AMPS_DELAY, -2 * INTERVAL);
    for (double filter : FILTERS) {
      assertNext(filter, 0, 0, 0);
      // a filter with another delay, found meanwhile, is not the best of these delays
      best.setFilters(filter);
      best.set(TimingPoint.AMPS_DELAY, 5 * INTERVAL);
    }
    for (double filter : FILTERS) {
      assertNext(filter, -2, 0, 0);
    }
    for (double filter : FILTERS) {
      assertNext(filter, 0, 0, 0.97);
    }
    best.setFilters(0.25);
    best.set(TimingPoint.AMPS_DELAY, 3 * INTERVAL);
    best.set(TimingPoint.READOUT, Math.log(0.5 + 0.03));
    for (int delay : new int[] {1, 2, 3, 4, 6, 8}) {
      assertNext(0.25, 3, delay, 0.5);
    }
    assertFalse(scan.next(best, trial));
  }

  @Test
  void delaysThenFiltersThenNoiseThenCommands() {
    assertScan();
  }

  @Test
  void aSecondScanIsTheSame() {
    assertScan();
    assertScan();
  }
}
