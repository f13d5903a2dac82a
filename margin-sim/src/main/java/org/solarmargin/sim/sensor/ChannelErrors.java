package org.solarmargin.sim.sensor;

import org.solarmargin.sim.timing.ReadingTiming;

/**
 * The errors of one sensor's readings, in the unit of its quantity and in the order in which they
 * occur: gain, offset and noise, then filter, delay and hold, then rounding.
 *
 * @param gain factor on the true value, 1 without error
 * @param offset offset that is added
 * @param noise 1 sigma of the white noise that is added; a filter reduces it
 * @param timing filter, delay and hold of the reading
 * @param roundingStep step to which the reading is rounded; 0 for none
 */
public record ChannelErrors(
    double gain, double offset, double noise, ReadingTiming timing, double roundingStep) {}
