package org.solarmargin.sim.trial;

import java.util.ArrayDeque;

/**
 * Counts nuisance alarms: those after which the margin stayed above 15 % for 10 s, except within 30
 * s before a loss. The limits are engineering judgement.
 */
final class NuisanceCount {

  private static final double NUISANCE_RATIO = 1.15;
  private static final double NUISANCE_SECONDS = 10;
  private static final double EXCUSED_SECONDS = 30;

  private final ArrayDeque<Double> pending = new ArrayDeque<>(2);
  private final ArrayDeque<Double> times = new ArrayDeque<>(2);

  void raised(double seconds) {
    pending.add(seconds);
  }

  /** Adds the ratio of true available power to demand at a time. */
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

  /** Number of nuisance alarms; the time of the loss is NaN if there was none. */
  int count(double lossSeconds) {
    return (int) times.stream().filter(at -> !(at >= lossSeconds - EXCUSED_SECONDS)).count();
  }
}
