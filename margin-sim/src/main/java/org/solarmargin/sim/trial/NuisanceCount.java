package org.solarmargin.sim.trial;

import java.util.ArrayDeque;

/** Alarms after which 15 % margin was kept for 10 s, but for those within 30 s before a loss. */
final class NuisanceCount {

  private static final double NUISANCE_RATIO = 1.15;
  private static final double NUISANCE_SECONDS = 10;
  private static final double EXCUSED_SECONDS = 30;

  private final ArrayDeque<Double> pending = new ArrayDeque<>(2);
  private final ArrayDeque<Double> times = new ArrayDeque<>(2);

  void raised(double seconds) {
    pending.add(seconds);
  }

  /** Takes the true available power over the demand at a time. */
  void follow(double seconds, boolean airborne, double ratio) {
    if (pending.isEmpty()) {
      return;
    }
    if (airborne && ratio < NUISANCE_RATIO) {
      pending.removeIf(raised -> seconds <= raised + NUISANCE_SECONDS);
    }
    while (!pending.isEmpty() && pending.peek() + NUISANCE_SECONDS < seconds) {
      times.add(pending.poll());
    }
  }

  /** How many there were; the loss is NaN if there was none. */
  int count(double lossSeconds) {
    return (int) times.stream().filter(at -> !(at >= lossSeconds - EXCUSED_SECONDS)).count();
  }
}
