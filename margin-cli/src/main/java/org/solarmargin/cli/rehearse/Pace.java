package org.solarmargin.cli.rehearse;

/** Paces a flight to real time or a multiple of it. */
final class Pace {

  private static final double NANOS = 1e9;

  private final double speed;
  private final long start = System.nanoTime();

  /** Creates the pacing at a multiple of real time; 0 disables it. */
  Pace(double speed) {
    this.speed = speed;
  }

  void waitFor(double seconds) {
    if (speed <= 0) {
      return;
    }
    long due = start + Math.round(seconds / speed * NANOS);
    long left = due - System.nanoTime();
    if (left > 0) {
      try {
        Thread.sleep(left / 1_000_000, (int) (left % 1_000_000));
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
    }
  }
}
