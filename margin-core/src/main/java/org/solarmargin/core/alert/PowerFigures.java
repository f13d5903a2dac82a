package org.solarmargin.core.alert;

/** The power figures that the rules judge, each as it is at the time of the call. */
public interface PowerFigures {

  /**
   * Best estimate of the available power. If it is below the demand, all levels are raised at once.
   *
   * @return W
   */
  double availableWatts();

  /**
   * Lower bound of the available power.
   *
   * @return W
   */
  double availableLowWatts();

  /**
   * Demand without sensor noise.
   *
   * @return W
   */
  double steadyDemandWatts();

  /**
   * Time until the margin is zero at its present trend.
   *
   * @return s; infinite unless the margin is falling
   */
  double secondsToZero();
}
