/**
 * How readings and commands follow the truth in time: filters, pure delays and clocks that advance
 * with the fixed step of a flight.
 */
package org.solarmargin.sim.timing;
