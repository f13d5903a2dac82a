/**
 * The array, modelled by groups of cells: unequal light, temperature and ageing, reverse breakdown,
 * bypass and blocking diodes, unequal strings. Volts, amperes, kelvin; current positive out of the
 * cell.
 *
 * <p>All transcendental functions are those of {@link java.lang.StrictMath}, so that the same input
 * gives the same bits on every machine.
 */
package org.solarmargin.sim.array;
