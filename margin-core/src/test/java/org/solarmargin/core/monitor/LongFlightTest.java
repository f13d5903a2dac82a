package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.estimator.TestFlight;

/**
 * A long flight at 50 samples per second with one monitor: nothing is allocated, the mean error of
 * each ten minutes stays within the interval, and saving and restoring the state every ten minutes
 * changes nothing. Use {@code -Dmargin.hours=12} for the long run.
 */
class LongFlightTest {

  private static final int HERTZ = 50;
  private static final int TEN_MINUTES = 600 * HERTZ;

  /** Time in which a restored monitor relearns intervals of the readings, trend and peaks. */
  private static final int SETTLED = 10 * HERTZ;

  /**
   * The saved state does not contain the intervals of the readings, and the operating point is
   * solved again, so a restored estimate need not have the same bits; a hundredth of the usual
   * interval.
   */
  private static final double SAME = 0.0005;

  private static final double TURN = 2 * Math.PI;

  /** The stated probability of the bound. */
  private static final double LEAST_HELD = 0.95;

  private final ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
  private final MarginMonitor whole = Monitors.monitor();
  private final byte[] state = new byte[MarginMonitor.STATE_BYTES];
  private MarginMonitor restored = Monitors.monitor();
  private long allocated;

  /**
   * Least bytes allocated in ten minutes: the JVM itself may allocate when it recompiles a call.
   */
  private long least = Long.MAX_VALUE;

  private void feed(TestFlight flight, long nanos) {
    long before = threads.getCurrentThreadAllocatedBytes();
    whole.update(nanos, flight.busVolts, flight.busAmps, flight.throttle);
    allocated += threads.getCurrentThreadAllocatedBytes() - before;
    restored.update(nanos, flight.busVolts, flight.busAmps, flight.throttle);
  }

  @Test
  void memoryAndErrorDoNotGrow() {
    double hours = Double.parseDouble(System.getProperty("margin.hours", "0.5"));
    TestFlight flight =
        new TestFlight(
            // the same light and load in each ten minutes, so that they are comparable
            t -> 0.85 + 0.1 * Math.sin(t * TURN / 600) + 0.03 * Math.sin(t * TURN / 40),
            t -> 0.47 + 0.02 * Math.sin(t * TURN / 300),
            HERTZ,
            12);
    long samples = Math.round(hours * 3600 * HERTZ);
    double width = 0;
    double error = 0;
    double worstChange = 0;
    int held = 0;
    for (long i = 1; i <= samples; i++) {
      flight.next();
      long nanos = Math.round(flight.seconds * 1e9);
      feed(flight, nanos);
      if (i % TEN_MINUTES >= SETTLED) {
        double watts = whole.reading().availableWatts();
        error += (watts / flight.availableWatts - 1) / (TEN_MINUTES - SETTLED);
        width += (1 - whole.reading().availableLowWatts() / watts) / (TEN_MINUTES - SETTLED);
        held += whole.reading().availableLowWatts() <= flight.availableWatts ? 1 : 0;
        worstChange =
            Math.max(worstChange, Math.abs(restored.reading().availableWatts() / watts - 1));
      }
      if (i % TEN_MINUTES == 0) {
        String when = "at " + flight.seconds / 3600 + " h";
        least = Math.min(least, allocated);
        allocated = 0;
        assertEquals(0, error, width, "mean error within the mean interval " + when);
        assertTrue(held >= LEAST_HELD * (TEN_MINUTES - SETTLED), "bound held " + held + ' ' + when);
        assertEquals(0, worstChange, SAME, "restored against whole " + when);
        restored.save(state);
        restored = Monitors.monitor();
        assertTrue(restored.restore(state, nanos, 0), when);
        error = 0;
        width = 0;
        held = 0;
        worstChange = 0;
      }
    }
    assertEquals(0, least, "bytes allocated in the least of all ten minutes of " + hours + " h");
  }
}
