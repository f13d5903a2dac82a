/**
 * One solar cell: the single-diode model, its parameters, and the curve at a given light and
 * temperature.
 *
 * <p>Units are SI: volts, amperes, ohms, watts. Temperatures are degrees Celsius where the name
 * says {@code celsius} and kelvin where it says {@code kelvin}. Light is a ratio, {@code suns}: 1
 * is 1000 W/m2. Current is positive out of the cell.
 */
package org.solarmargin.core.cell;
