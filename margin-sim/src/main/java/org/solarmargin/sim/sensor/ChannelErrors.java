package org.solarmargin.sim.sensor;

import org.solarmargin.sim.timing.ReadingTiming;

/**
 * What is wrong with the readings of one sensor, in the unit of its quantity, in the order in which
 * it happens: gain, offset and noise, then filter, delay and hold, then rounding.
 *
 * @param gain factor on the true value, 1 is right
 * @param offset added to it
 * @param noise 1 sigma of the white noise that is added to it; a filter makes less of it
 * @param timing how the reading follows in time
 * @param roundingStep step to which the reading is rounded; 0 for none
 */
public record ChannelErrors(
    double gain, double offset, double noise, ReadingTiming timing, double roundingStep) {}
