package org.solarmargin.sim.timing;

/** Determines the steps in which a periodic event is due; the first event is due immediately. */
public final class PeriodClock {

  private static final double ROUNDING = 1e-9;

  private final double period;
  private final double step;

  private long steps;
  private long events;

  /**
   * Creates a clock.
   *
   * @param period period of the event, s; shorter than a step for one event in each step
   * @param step length of a step, s
   */
  public PeriodClock(double period, double step) {
    this.period = Math.max(period, step);
    this.step = step;
  }

  /**
   * Advances by one step.
   *
   * @return whether an event is due at the start of the step
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
