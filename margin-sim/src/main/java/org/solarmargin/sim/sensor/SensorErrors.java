package org.solarmargin.sim.sensor;

/**
 * What is wrong with the sensors.
 *
 * @param volts with the bus voltage, V
 * @param amps with the bus current, A
 * @param faults with single samples
 */
public record SensorErrors(ChannelErrors volts, ChannelErrors amps, ReadingFaults faults) {}
