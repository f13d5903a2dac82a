package org.solarmargin.core.estimator;

/**
 * An immutable reading that any thread may hold.
 *
 * @param status how far to trust the figures
 * @param availableWatts most power that the array could deliver, W
 * @param availableLowWatts its 95 % lower bound, W
 * @param demandWatts measured power, W
 * @param peakVolts bus voltage at the knee, V
 * @param throttleCeiling steady throttle that draws all available power, 0 to 1
 * @param secondsToZero time until the margin is gone, s; infinite unless it is falling
 * @param unevenLightProbability how far a shadow on a few cells is proven, 0 to 1
 */
public record MarginSnapshot(
    Status status,
    double availableWatts,
    double availableLowWatts,
    double demandWatts,
    double peakVolts,
    double throttleCeiling,
    double secondsToZero,
    double unevenLightProbability) {}
