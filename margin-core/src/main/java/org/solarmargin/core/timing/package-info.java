/**
 * The time model of readings and commands: filter, delay, interval and rounding of each channel,
 * and lag and delay of the command.
 */
package org.solarmargin.core.timing;
