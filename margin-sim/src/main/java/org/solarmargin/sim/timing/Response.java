package org.solarmargin.sim.timing;

/**
 * A linear response with unit gain to an input that is constant during each step, in steady state
 * before the first one.
 */
@FunctionalInterface
public interface Response {

  /**
   * Processes the input of one step.
   *
   * @param input input from the start of the step to its end
   * @return the output at the start of the step
   */
  double follow(double input);

  /**
   * The response of a filter.
   *
   * @param shape shape of the filter
   * @param filterSeconds filter time, see {@link FilterShape}, s; 0 or less returns the input
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
