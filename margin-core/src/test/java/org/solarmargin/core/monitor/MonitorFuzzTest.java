package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.nio.ByteBuffer;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;

/** Any bytes as samples or as a saved state cause no exception and no impossible output. */
class MonitorFuzzTest {

  private static final int RECORD = 1 + 4 * Float.BYTES;
  private static final int SAMPLES = 120;
  private static final int STREAMS = 150;
  private static final double MOST_WATTS;

  static {
    var array = TestCraft.SETTINGS.newArray();
    array.set(2, -40);
    MOST_WATTS = array.openCircuitVolts() * array.shortCircuitAmps();
  }

  /** A flight as bytes: kind of input, seconds since the last, V, A, command. */
  private static byte[] flight(int seed, Random damage) {
    TestFlight flight = new TestFlight(t -> 0.9 - 0.05 * t, t -> 0.5, 20, seed);
    ByteBuffer bytes = ByteBuffer.allocate(SAMPLES * RECORD);
    for (int i = 0; i < SAMPLES; i++) {
      flight.next();
      bytes.put((byte) 0).putFloat(0.05f);
      bytes.putFloat((float) flight.busVolts).putFloat((float) flight.busAmps);
      bytes.putFloat((float) flight.throttle);
    }
    byte[] stream = bytes.array();
    for (int i = 0; damage != null && i < 40; i++) {
      stream[damage.nextInt(stream.length)] = (byte) damage.nextInt(256);
    }
    return stream;
  }

  static Stream<byte[]> streams() {
    Random damage = new Random(14);
    int streams = System.getenv("JAZZER_FUZZ") != null ? 0 : STREAMS;
    return Stream.concat(
        Stream.of(flight(1, null)), IntStream.range(0, streams).mapToObj(i -> flight(i, damage)));
  }

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

  @MethodSource("streams")
  @FuzzTest(maxDuration = "12h", maxExecutions = 1_000_000)
  void stream(byte[] bytes) {
    MarginMonitor monitor = Monitors.monitor();
    ByteBuffer in = ByteBuffer.wrap(bytes);
    double seconds = 0;
    while (in.remaining() >= RECORD) {
      int kind = in.get() & 3;
      seconds += in.getFloat();
      long nanos = Math.round(seconds * 1e9);
      double volts = in.getFloat();
      double amps = in.getFloat();
      double throttle = in.getFloat();
      switch (kind) {
        case 0 -> monitor.update(nanos, volts, amps, throttle);
        case 1 -> monitor.update(nanos, volts, amps, throttle, amps);
        case 2 -> monitor.command(nanos, throttle);
        default -> monitor.reading(nanos, volts, amps, throttle);
      }
      check(monitor);
    }
  }

  @MethodSource("states")
  @FuzzTest(maxDuration = "12h", maxExecutions = 1_000_000)
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
      check(monitor);
    }
  }

  private static void check(MarginMonitor monitor) {
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
