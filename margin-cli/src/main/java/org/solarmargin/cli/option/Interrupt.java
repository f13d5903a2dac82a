package org.solarmargin.cli.option;

import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;

/** Ctrl-C: asks the work to end, and waits until what there is has been printed. */
public final class Interrupt implements AutoCloseable {

  private static final int WIND_DOWN_SECONDS = 30;

  private final CountDownLatch printed = new CountDownLatch(1);
  private final Thread hook;

  /**
   * From now on Ctrl-C winds down.
   *
   * @param stop asks the work to end
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

  /** The results are out: the machine may go down. */
  public void done() {
    printed.countDown();
  }

  @Override
  public void close() {
    done();
    try {
      Runtime.getRuntime().removeShutdownHook(hook);
    } catch (IllegalStateException e) {
      // the machine is already going down: the hook has done its work
    }
  }
}
