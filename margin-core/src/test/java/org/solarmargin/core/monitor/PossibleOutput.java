package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertTrue;

import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestCraft;

/** What any reading must be, whatever was fed. */
final class PossibleOutput {

  private static final double MOST_WATTS;

  static {
    var array = TestCraft.SETTINGS.newArray();
    array.set(2, -40);
    MOST_WATTS = array.openCircuitVolts() * array.shortCircuitAmps();
  }

  private PossibleOutput() {}

  static void check(MarginMonitor monitor) {
    MarginReading reading = monitor.reading();
    if (reading.status() == Status.NO_ESTIMATE) {
      return;
    }
    double watts = reading.availableWatts();
    assertTrue(watts >= 0 && watts <= MOST_WATTS, () -> "available " + watts);
    double low = reading.availableLowWatts();
    assertTrue(low >= 0 && low <= watts, () -> low + " of " + watts);
    double ceiling = reading.throttleCeiling();
    assertTrue(ceiling >= 0 && ceiling <= 1, () -> "ceiling " + ceiling);
  }
}
