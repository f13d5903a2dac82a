package org.solarmargin.cli.option;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/** Handles Ctrl-C: requests the work to stop, and waits until the partial results are printed. */
public final class Interrupt implements AutoCloseable {

  private static final int WIND_DOWN_SECONDS = 30;

  private final CountDownLatch printed = new CountDownLatch(1);
  private final Thread hook;

  /**
   * Installs the handler.
   *
   * @param stop requests the work to stop
   */
  public Interrupt(Runnable stop) {
    hook =
        new Thread(
            () -> {
              stop.run();
              try {
                if (!printed.await(WIND_DOWN_SECONDS, TimeUnit.SECONDS)) {
                  System.err.println("margin: stopped before the results could be printed");
                }
              } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
              }
            });
    Runtime.getRuntime().addShutdownHook(hook);
  }

  /** Signals that the results are printed and the JVM may exit. */
  public void done() {
    printed.countDown();
  }

  @Override
  public void close() {
    done();
    try {
      Runtime.getRuntime().removeShutdownHook(hook);
    } catch (IllegalStateException e) {
      // the JVM is already shutting down
    }
  }
}
