package org.solarmargin.sim.sensor;

/**
 * What is wrong with the sensors.
 *
 * @param voltageNoise 1 sigma, V
 * @param currentNoise 1 sigma, A
 * @param voltageGain factor on the true voltage, 1 is right
 * @param currentGain factor on the true current, 1 is right
 * @param currentOffset added, A
 * @param voltageStep quantum, V; 0 for none
 * @param currentStep quantum, A; 0 for none
 * @param lagSeconds first-order lag of both; 0 for none
 * @param jitterSeconds 1 sigma of the sample times
 * @param dropoutShare share of samples that are missing
 * @param spikeShare share of samples with one reading far off
 * @param freezeStart when the current reading freezes, s; infinite for never
 * @param freezeSeconds how long
 */
public record SensorErrors(
    double voltageNoise,
    double currentNoise,
    double voltageGain,
    double currentGain,
    double currentOffset,
    double voltageStep,
    double currentStep,
    double lagSeconds,
    double jitterSeconds,
    double dropoutShare,
    double spikeShare,
    double freezeStart,
    double freezeSeconds) {}
