package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestFlight;

/** Any bytes as a saved state cause no exception and no impossible output. */
class SavedStateFuzzTest {

  static Stream<byte[]> states() {
    MarginMonitor monitor = Monitors.monitor();
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 1);
    while (flight.seconds < 20) {
      Monitors.feed(monitor, flight);
    }
    byte[] state = new byte[MarginMonitor.STATE_BYTES];
    monitor.save(state);
    return Stream.of(state, new byte[0]);
  }

  @MethodSource("states")
  @FuzzTest(maxDuration = "4s")
  void state(byte[] bytes) {
    MarginMonitor monitor = Monitors.monitor();
    boolean taken = monitor.restore(bytes, 1_000_000_000L, 0.1);
    if (!taken) {
      assertEquals(Status.NO_ESTIMATE, monitor.reading().status());
      assertEquals(AlertLevel.NONE, monitor.level());
    }
    TestFlight flight = new TestFlight(t -> 0.9, t -> 0.5, 50, 1);
    for (int i = 1; i < 20; i++) {
      flight.next();
      monitor.update(
          1_000_000_000L + i * 20_000_000L, flight.busVolts, flight.busAmps, flight.throttle);
      PossibleOutput.check(monitor);
    }
  }
}
