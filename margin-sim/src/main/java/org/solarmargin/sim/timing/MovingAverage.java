package org.solarmargin.sim.timing;

/**
 * Mean of the input over a past window. It is exact for an input that is constant during each step,
 * whether or not the window is a whole number of steps: the integral now minus the integral one
 * window ago, which is linear between the steps.
 */
final class MovingAverage implements Response {

  private final double seconds;
  private final double step;
  private final DelayLine past;

  private double origin = Double.NaN;
  private double integral;

  MovingAverage(double seconds, double step) {
    this.seconds = seconds;
    this.step = step;
    this.past = new DelayLine(seconds, step);
  }

  @Override
  public double follow(double input) {
    if (Double.isNaN(origin)) {
      origin = input;
    }
    past.push(integral);
    double output = origin + (integral - past.interpolated()) / seconds;
    integral += (input - origin) * step;
    return output;
  }
}
