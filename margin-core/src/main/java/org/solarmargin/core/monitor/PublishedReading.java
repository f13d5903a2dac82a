package org.solarmargin.core.monitor;

import java.lang.invoke.MethodHandles;
import java.lang.invoke.VarHandle;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.MarginSnapshot;

/**
 * The last reading, published to any thread by a sequence lock. The feeding thread makes the count
 * odd, writes, and makes it even again, so it never waits and does not allocate; a reader retries
 * if the count was odd or has changed.
 */
final class PublishedReading {

  private static final VarHandle COUNT;

  static {
    try {
      COUNT = MethodHandles.lookup().findVarHandle(PublishedReading.class, "count", int.class);
    } catch (ReflectiveOperationException e) {
      throw new ExceptionInInitializerError(e);
    }
  }

  @SuppressWarnings("unused") // by COUNT
  private int count;

  private final MarginReading last = new MarginReading();

  /** Publishes a reading; called by the feeding thread only. */
  void set(MarginReading reading) {
    int before = (int) COUNT.get(this);
    COUNT.setOpaque(this, before + 1);
    VarHandle.storeStoreFence();
    last.set(reading);
    COUNT.setRelease(this, before + 2);
  }

  /** A consistent copy of one reading. */
  MarginSnapshot get() {
    while (true) {
      int before = (int) COUNT.getAcquire(this);
      if ((before & 1) == 0) {
        MarginSnapshot copy = last.snapshot();
        VarHandle.loadLoadFence();
        if ((int) COUNT.getOpaque(this) == before) {
          return copy;
        }
      }
      Thread.onSpinWait();
    }
  }
}
