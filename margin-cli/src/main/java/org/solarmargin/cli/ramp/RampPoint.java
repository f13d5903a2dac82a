package org.solarmargin.cli.ramp;

/**
 * Mean readings over a short section of a ramp.
 *
 * @param seconds mean time, s
 * @param volts mean bus voltage, V
 * @param amps mean bus current, A
 * @param throttle mean throttle, 0 to 1
 * @param celsius mean cell temperature, degrees Celsius; NaN without thermometer
 * @param fresh number of different readings in it, at least 1
 */
public record RampPoint(
    double seconds, double volts, double amps, double throttle, double celsius, int fresh) {}
