/**
 * The front end of the filter: dates readings and commands back or forward by their delays and
 * passes them on in the order of the instants to which they belong. Not exported.
 *
 * <p>Readings are neither interpolated nor inverted: the output of a sensor's low-pass filter is a
 * state of the estimator, and this package only states the weight of the new value in it. If the
 * timing is not known, both readings are averaged over a common window instead.
 */
package org.solarmargin.core.align;
