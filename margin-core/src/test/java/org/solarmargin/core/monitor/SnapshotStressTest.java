package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.alert.AlertRules;
import org.solarmargin.core.estimator.MarginSnapshot;
import org.solarmargin.core.estimator.TestCraft;
import org.solarmargin.core.estimator.TestFlight;

/**
 * Snapshots taken while another thread feeds are consistent: each equals one of a single thread.
 */
class SnapshotStressTest {

  private static final int SAMPLES = 3000;
  private static final int READERS = 3;
  private static final long STRESS_NANOS = TimeUnit.SECONDS.toNanos(3);

  private static MarginMonitor monitor() {
    return new MarginMonitor(TestCraft.SETTINGS, AlertRules.DEFAULT, (t, l, r, w, m, z) -> {});
  }

  private static List<double[]> flight() {
    TestFlight flight = new TestFlight(t -> 0.95 - 0.008 * t, t -> 0.5, 50, 5);
    List<double[]> rows = new ArrayList<>();
    for (int i = 0; i < SAMPLES; i++) {
      flight.next();
      rows.add(new double[] {flight.busVolts, flight.busAmps, flight.throttle});
    }
    return rows;
  }

  private static void feed(MarginMonitor monitor, List<double[]> rows, int i) {
    double[] row = rows.get(i);
    monitor.update(i * 20_000_000L, row[0], row[1], row[2]);
  }

  @Test
  void everySnapshotIsConsistent() throws Exception {
    List<double[]> rows = flight();
    Set<MarginSnapshot> whole = new HashSet<>();
    MarginMonitor lone = monitor();
    whole.add(lone.snapshot());
    for (int i = 0; i < SAMPLES; i++) {
      feed(lone, rows, i);
      whole.add(lone.snapshot());
    }
    assertTrue(whole.size() > SAMPLES / 2, "different snapshots: " + whole.size());
    MarginMonitor fed = monitor();
    AtomicBoolean over = new AtomicBoolean();
    ExecutorService pool = Executors.newFixedThreadPool(READERS);
    List<Future<long[]>> readers = new ArrayList<>();
    for (int i = 0; i < READERS; i++) {
      readers.add(
          pool.submit(
              () -> {
                long[] seen = new long[2];
                while (!over.get()) {
                  seen[0]++;
                  seen[1] += whole.contains(fed.snapshot()) ? 0 : 1;
                  fed.acknowledge();
                }
                return seen;
              }));
    }
    long end = System.nanoTime() + STRESS_NANOS;
    while (System.nanoTime() < end) {
      for (int i = 0; i < SAMPLES; i++) {
        feed(fed, rows, i);
      }
      fed.reset();
    }
    over.set(true);
    for (Future<long[]> reader : readers) {
      long[] seen = reader.get(10, TimeUnit.SECONDS);
      assertEquals(0, seen[1], "torn snapshots of " + seen[0]);
      assertTrue(seen[0] > 1000, "snapshots taken: " + seen[0]);
    }
    pool.shutdown();
  }
}
