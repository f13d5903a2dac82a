package org.solarmargin.cli.live;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.mavlink.Row;

/**
 * Rows that are not taken are dropped and counted for a link, oldest first, but never for a file.
 */
class QueuedSourceTest {

  private static final int ROWS = 10_000;

  private final LinkCounts counts = new LinkCounts();
  private final CountDownLatch read = new CountDownLatch(1);

  private QueuedSource source(boolean waits) {
    return new QueuedSource(
        new QueuedSource.Reader() {
          private int number;

          @Override
          public Row next() {
            if (number == ROWS) {
              read.countDown();
              return null;
            }
            return new Row(number++, 29, 3, Double.NaN, Double.NaN);
          }

          @Override
          public void close() {}
        },
        "rows",
        waits,
        counts);
  }

  @Test
  void aLinkDropsTheOldestAndCountsThem() throws Exception {
    QueuedSource source = source(false);
    read.await();
    int dropped = ROWS - QueuedSource.AHEAD;
    assertEquals(dropped, counts.of(LinkCounts.Kind.DROPPED));
    assertEquals(dropped, source.poll(100).row().nanos(), "the oldest of those left");
    assertEquals(ROWS, counts.of(LinkCounts.Kind.READINGS));
  }

  @Test
  void aReaderThatFailsEndsTheSourceWithItsFault() throws Exception {
    QueuedSource source =
        new QueuedSource(
            new QueuedSource.Reader() {
              @Override
              public Row next() {
                throw new IllegalStateException("no port");
              }

              @Override
              public void close() {}
            },
            "rows",
            false,
            counts);
    while (!source.ended()) {
      Thread.sleep(1);
    }
    InputFault fault = assertThrows(InputFault.class, () -> source.poll(0));
    assertTrue(fault.getMessage().contains("no port"), fault.getMessage());
  }

  @Test
  void aFileWaits() throws Exception {
    QueuedSource source = source(true);
    for (int i = 0; i < ROWS; i++) {
      assertEquals(i, source.poll(1000).row().nanos());
    }
    assertEquals(0, counts.of(LinkCounts.Kind.DROPPED));
    read.await();
    assertTrue(source.poll(100) == null);
    assertTrue(source.ended());
  }
}
