package org.solarmargin.sim.timing;

/**
 * A linear response with unit gain to an input that is held over each step, in steady state before
 * the first one.
 */
@FunctionalInterface
public interface Response {

  /**
   * Takes the input of one step.
   *
   * @param input held from the start of the step to its end
   * @return the output at the start of the step
   */
  double follow(double input);

  /**
   * The response of a filter.
   *
   * @param shape its shape
   * @param filterSeconds its constant, see {@link FilterShape}, s; 0 or less for none: the input
   *     itself
   * @param step length of a step, s
   * @return the filter
   */
  static Response of(FilterShape shape, double filterSeconds, double step) {
    if (filterSeconds <= 0) {
      return input -> input;
    }
    return switch (shape) {
      case FIRST_ORDER -> new LowPass(filterSeconds, step, false);
      case SECOND_ORDER -> new LowPass(filterSeconds, step, true);
      case AVERAGE -> new MovingAverage(filterSeconds, step);
    };
  }
}
