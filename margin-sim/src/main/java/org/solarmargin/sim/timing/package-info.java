/**
 * The timing of readings and commands relative to the true values: filters, pure delays and clocks
 * that advance with the fixed step of a flight.
 */
package org.solarmargin.sim.timing;
