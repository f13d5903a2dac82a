package org.solarmargin.core.monitor;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.nio.ByteBuffer;
import java.util.Random;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;
import org.solarmargin.core.estimator.TestFlight;

/** Any bytes as samples cause no exception and no impossible output. */
class SampleStreamFuzzTest {

  private static final int RECORD = 1 + 4 * Float.BYTES;
  private static final int SAMPLES = 120;
  private static final int STREAMS = 150;

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

  @MethodSource("streams")
  @FuzzTest(maxDuration = "4s")
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
      PossibleOutput.check(monitor);
    }
  }
}
