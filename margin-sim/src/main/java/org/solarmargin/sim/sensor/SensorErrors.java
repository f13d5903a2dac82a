package org.solarmargin.sim.sensor;

/**
 * The errors of all sensors.
 *
 * @param volts errors of the bus voltage, V
 * @param amps errors of the bus current, A
 * @param faults faults of single samples
 */
public record SensorErrors(ChannelErrors volts, ChannelErrors amps, ReadingFaults faults) {}
