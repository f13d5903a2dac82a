package org.solarmargin.sim.scenario;

import org.solarmargin.sim.array.ArrayLayout.Shadow;

/**
 * Cells of a scenario that differ from the profile's.
 *
 * @param odd cells of each string that are shaded or cracked
 * @param others further cells of each string that differ
 * @param all what all cells have in common
 * @param wiring of the strings
 */
public record ArraySpec(OddCells odd, OtherCells others, AllCells all, Wiring wiring) {

  /**
   * Cells that are shaded or cracked.
   *
   * @param cells how many of each string
   * @param light factor
   * @param temperature over the others, K
   * @param photocurrent factor (cracked)
   * @param shunt factor (cracked)
   * @param shadow of the craft's own parts
   */
  public record OddCells(
      int cells,
      double light,
      double temperature,
      double photocurrent,
      double shunt,
      Shadow shadow) {}

  /**
   * Further cells that differ.
   *
   * @param cells how many of each string
   * @param light factor
   * @param temperature over the rest, K
   */
  public record OtherCells(int cells, double light, double temperature) {}

  /**
   * What all cells have in common.
   *
   * @param photocurrent factor (dust, age)
   * @param series factor on the series resistance (age, solder)
   * @param recombinationAmps second diode at 25 degrees Celsius; 0 for none
   */
  public record AllCells(double photocurrent, double series, double recombinationAmps) {}

  /**
   * Wiring of the strings.
   *
   * @param bypassEvery cells in each bypassed substring; 0 for no bypass diodes
   * @param blocking whether strings have blocking diodes
   * @param weakString light factor of the first string
   * @param stringLostSeconds when a string breaks; infinite for never
   */
  public record Wiring(
      int bypassEvery, boolean blocking, double weakString, double stringLostSeconds) {}
}
