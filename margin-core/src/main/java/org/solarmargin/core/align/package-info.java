/**
 * The front end of the filter: brings readings and commands, each with its own filter, delay and
 * rate, to one common instant and one common lag. Not exported.
 *
 * <p>A reading {@code y} that passed a first-order low-pass filter of time constant {@code tau} is
 * inverted: {@code x = y + tau dy/dt}. What rounding leaves is amplified by that, so the inverse is
 * followed by a short common lag, which the throttle passes too: volts, amperes and throttle are
 * then all late by the same, small amount.
 */
package org.solarmargin.core.align;
