package org.solarmargin.sim.timing;

/** Tells in which steps a periodic event falls due; the first one does at once. */
public final class PeriodClock {

  private static final double ROUNDING = 1e-9;

  private final double period;
  private final double step;

  private long steps;
  private long events;

  /**
   * A clock.
   *
   * @param period of the event, s; shorter than a step for one event in each step
   * @param step length of a step, s
   */
  public PeriodClock(double period, double step) {
    this.period = Math.max(period, step);
    this.step = step;
  }

  /**
   * Goes on by one step.
   *
   * @return whether an event falls due at the start of the step
   */
  public boolean tick() {
    double time = steps++ * step;
    if (time < events * period - ROUNDING) {
      return false;
    }
    events++;
    return true;
  }
}
