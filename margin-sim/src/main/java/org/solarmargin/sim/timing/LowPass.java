package org.solarmargin.sim.timing;

/**
 * One first-order low-pass filter, {@code T dy/dt = x - y}, or two equal ones in series, advanced
 * by their exact solution for a constant input {@code x}:
 *
 * <pre>
 * y1(t + h) = x + (y1 - x) e
 * y2(t + h) = x + ((y2 - x) + (y1 - x) h/T) e,   e = exp(-h/T)
 * </pre>
 *
 * so that the output does not depend on the step {@code h} ({@code ResponseTest}).
 */
final class LowPass implements Response {

  private final boolean twice;
  private final double decay;
  private final double stepShare;

  private boolean started;
  private double first;
  private double second;

  LowPass(double seconds, double step, boolean twice) {
    this.twice = twice;
    this.stepShare = step / seconds;
    this.decay = StrictMath.exp(-step / seconds);
  }

  @Override
  public double follow(double input) {
    if (!started) {
      started = true;
      first = input;
      second = input;
    }
    double output = twice ? second : first;
    second = input + ((second - input) + (first - input) * stepShare) * decay;
    first = input + (first - input) * decay;
    return output;
  }
}
