package org.solarmargin.sim.scenario;

import org.solarmargin.sim.array.ArrayLayout.Shadow;

/**
 * The deviations of a scenario's cells from the profile's.
 *
 * @param odd cells of each string that are shaded or cracked
 * @param others further cells of each string that differ
 * @param all deviations common to all cells
 * @param wiring wiring of the strings
 */
public record ArraySpec(OddCells odd, OtherCells others, AllCells all, Wiring wiring) {

  /**
   * Cells that are shaded or cracked.
   *
   * @param cells number of cells in each string
   * @param light factor on the light
   * @param temperature difference to the other cells, K
   * @param photocurrent factor on the photocurrent (crack)
   * @param shunt factor on the shunt resistance (crack)
   * @param shadow shadow of parts of the craft
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
   * @param cells number of cells in each string
   * @param light factor on the light
   * @param temperature difference to the other cells, K
   */
  public record OtherCells(int cells, double light, double temperature) {}

  /**
   * Deviations common to all cells.
   *
   * @param photocurrent factor on the photocurrent (dust, ageing)
   * @param series factor on the series resistance (ageing, solder)
   * @param recombinationAmps saturation current of a second diode at 25 degrees Celsius, A; 0 for
   *     none
   */
  public record AllCells(double photocurrent, double series, double recombinationAmps) {}

  /**
   * Wiring of the strings.
   *
   * @param bypassEvery number of cells in each bypassed substring; 0 for no bypass diodes
   * @param blocking whether strings have blocking diodes
   * @param weakString factor on the light of the first string
   * @param stringLostSeconds when a string breaks, s; infinite for never
   */
  public record Wiring(
      int bypassEvery, boolean blocking, double weakString, double stringLostSeconds) {}
}
