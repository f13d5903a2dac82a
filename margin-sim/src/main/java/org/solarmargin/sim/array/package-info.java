/**
 * The array cell group by cell group: unequal light, heat and health, reverse breakdown, bypass and
 * blocking diodes, unequal strings. Volts, amperes, kelvin; current positive out of the cell.
 *
 * <p>All transcendental functions are {@link java.lang.StrictMath}'s, so that the same input gives
 * the same bits on every machine.
 */
package org.solarmargin.sim.array;
