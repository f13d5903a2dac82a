package org.solarmargin.core.estimator;

/**
 * An immutable copy of a {@link MarginReading}, which any thread may use.
 *
 * @param status how far the figures may be trusted
 * @param availableWatts most power that the array could deliver, W
 * @param availableLowWatts its 95 % lower bound, W
 * @param demandWatts measured power, W; the steady demand while the estimate is only propagated
 * @param steadyDemandWatts demand without sensor noise, W
 * @param peakVolts bus voltage at the knee, V
 * @param throttleCeiling steady throttle that draws all available power, 0 to 1
 * @param secondsToZero time until the margin is gone, s; infinite unless it is falling
 * @param suns light on the cells, 1000 W/m2 each
 * @param cellCelsius cell temperature, degrees Celsius
 * @param unevenLightProbability probability of a shadow on a few cells, 0 to 1
 * @param thermometerLeftOut whether the measured cell temperature is not used
 */
public record MarginSnapshot(
    Status status,
    double availableWatts,
    double availableLowWatts,
    double demandWatts,
    double steadyDemandWatts,
    double peakVolts,
    double throttleCeiling,
    double secondsToZero,
    double suns,
    double cellCelsius,
    double unevenLightProbability,
    boolean thermometerLeftOut) {

  /**
   * Available power minus demand, as {@link MarginReading#marginWatts()}.
   *
   * @return W
   */
  public double marginWatts() {
    return availableWatts - demandWatts;
  }

  /**
   * Lower bound of the available power minus demand, as {@link MarginReading#marginLowWatts()}.
   *
   * @return W
   */
  public double marginLowWatts() {
    return availableLowWatts - demandWatts;
  }

  /**
   * How much more lift the craft could sustain, as {@link MarginReading#liftReservePercent()}.
   *
   * @return percent
   */
  public double liftReservePercent() {
    return MarginReading.liftReservePercent(availableWatts, demandWatts);
  }
}
