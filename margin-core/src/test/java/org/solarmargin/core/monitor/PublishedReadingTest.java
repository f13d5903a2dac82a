package org.solarmargin.core.monitor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import java.time.Duration;
import java.util.Set;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.Test;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.MarginSnapshot;
import org.solarmargin.core.estimator.Readings;
import org.solarmargin.core.estimator.Status;

/** One thread: a copy of the last reading; {@code SnapshotStressTest} has several. */
class PublishedReadingTest {

  @Test
  void aCopyIsThatOfTheLastReading() {
    PublishedReading published = new PublishedReading();
    assertEquals(Status.NO_ESTIMATE, published.get().status());
    for (int i = 1; i <= 5; i++) {
      MarginReading reading = Readings.of(Status.SHARP, 100 + i, 90 + i, 0.1 * i);
      published.set(reading);
      MarginSnapshot copy = assertTimeoutPreemptively(Duration.ofSeconds(5), published::get);
      assertEquals(reading.snapshot(), copy);
      reading.clear();
      assertEquals(copy, published.get(), "the copy does not follow the reading");
    }
  }

  /** Two readings in turn by another thread: each copy is one of the two, never parts of both. */
  @Test
  void aCopyTakenWhileAnotherThreadPublishesIsWhole() throws InterruptedException {
    PublishedReading published = new PublishedReading();
    MarginReading one = Readings.of(Status.SHARP, 100, 90, 0.5);
    MarginReading other = Readings.of(Status.COARSE, 200, 150, 0.8);
    Set<MarginSnapshot> whole = Set.of(one.snapshot(), other.snapshot());
    published.set(one);
    AtomicBoolean over = new AtomicBoolean();
    Thread feeder =
        new Thread(
            () -> {
              while (!over.get()) {
                published.set(other);
                published.set(one);
              }
            });
    feeder.start();
    int torn = 0;
    long end = System.nanoTime() + 300_000_000L;
    while (System.nanoTime() < end) {
      torn += whole.contains(published.get()) ? 0 : 1;
    }
    over.set(true);
    feeder.join();
    assertEquals(0, torn);
    assertEquals(one.snapshot(), published.get());
  }
}
