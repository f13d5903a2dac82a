package org.solarmargin.core.alert;

/** The figures that the rules judge, as they stand when asked. */
public interface PowerFigures {

  /**
   * Best estimate of the available power; under the demand it warns at once.
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
   * @return s; infinite unless falling
   */
  double secondsToZero();
}
