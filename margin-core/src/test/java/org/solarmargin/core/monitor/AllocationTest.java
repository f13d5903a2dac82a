package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.lang.management.ManagementFactory;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertListener;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;
import org.solarmargin.core.limiter.ThrottleLimiter;

/** Nothing is allocated after construction, by the JVM's own counter for this thread. */
class AllocationTest {

  private static final int SAMPLES = 20_000;
  private static final int ROUNDS = 50;
  private static final AlertListener IGNORE = (t, l, r, w, m, z) -> {};

  private final ThrottleLimiter limiter = new ThrottleLimiter();

  @Test
  void aMillionUpdatesAllocateNothing() {
    var bean = counter();
    double[] volts = new double[SAMPLES];
    double[] amps = new double[SAMPLES];
    double[] throttle = new double[SAMPLES];
    TestFlight flight = new TestFlight(t -> 0.7 + 0.25 * Math.sin(0.1 * t), t -> 0.5, 50, 1);
    for (int i = 0; i < SAMPLES; i++) {
      flight.next();
      volts[i] = i % 997 == 0 ? Double.NaN : flight.busVolts;
      amps[i] = flight.busAmps;
      throttle[i] = flight.throttle;
    }
    MarginMonitor monitor = new MarginMonitor(TestCraft.SETTINGS, AlertRules.DEFAULT, IGNORE);
    long time = run(monitor, volts, amps, throttle, 0, 2);
    long thread = Thread.currentThread().getId();
    // the JVM itself may allocate in one round, but not in all three
    long least = Long.MAX_VALUE;
    for (int round = 0; round < 3; round++) {
      long before = bean.getThreadAllocatedBytes(thread);
      time = run(monitor, volts, amps, throttle, time, ROUNDS);
      least = Math.min(least, bean.getThreadAllocatedBytes(thread) - before);
    }
    assertEquals(0, least, "bytes allocated in " + SAMPLES * ROUNDS + " updates");
  }

  private static com.sun.management.ThreadMXBean counter() {
    assumeTrue(
        ManagementFactory.getThreadMXBean() instanceof com.sun.management.ThreadMXBean bean
            && bean.isThreadAllocatedMemorySupported(),
        "this JVM does not count allocation by thread");
    return (com.sun.management.ThreadMXBean) ManagementFactory.getThreadMXBean();
  }

  private long run(
      MarginMonitor monitor, double[] v, double[] a, double[] t, long start, int rounds) {
    long time = start;
    for (int round = 0; round < rounds; round++) {
      for (int i = 0; i < v.length; i++) {
        time += 20_000_000L;
        monitor.update(time, v[i], a[i], t[i]);
        limiter.cap(monitor.reading(), monitor.airborne());
      }
    }
    return time;
  }
}
