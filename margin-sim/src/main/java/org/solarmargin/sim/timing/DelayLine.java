package org.solarmargin.sim.timing;

import java.util.Arrays;

/**
 * A pure delay of a signal that is known at the start of each step and constant before the first
 * one. A delay of whole steps returns the input values exactly.
 */
public final class DelayLine {

  private static final double ROUNDING = 1e-9;

  private final double[] values;
  private final double share;

  private int newest;
  private boolean started;

  /**
   * Creates a delay line.
   *
   * @param seconds delay; 0 or less for none
   * @param step length of a step, s
   */
  public DelayLine(double seconds, double step) {
    double steps = Math.max(seconds, 0) / step;
    int back = (int) Math.ceil(steps - ROUNDING);
    values = new double[back + 1];
    double rest = back - steps;
    share = rest < ROUNDING ? 0 : rest;
  }

  /**
   * Adds the value at the start of the next step.
   *
   * @param value any value
   */
  public void push(double value) {
    if (!started) {
      started = true;
      Arrays.fill(values, value);
    }
    newest = (newest + 1) % values.length;
    values[newest] = value;
  }

  /**
   * The delayed value of a signal that is constant during each step.
   *
   * @return the value that was held one delay before the newest step's start
   */
  public double held() {
    return values[(newest + 1) % values.length];
  }

  /**
   * The delayed value of a continuous signal, interpolated linearly between the steps.
   *
   * @return the value one delay before the newest step's start
   */
  public double interpolated() {
    double before = held();
    if (share == 0) {
      return before;
    }
    double after = values[(newest + 2) % values.length];
    return before + share * (after - before);
  }
}
