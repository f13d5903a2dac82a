package org.solarmargin.sim.array;

import org.solarmargin.core.cell.CellParameters;

/**
 * What one cell of the bench is made of, at 1000 W/m2 and 25 degrees Celsius.
 *
 * @param photocurrentAmps IL, A
 * @param saturationAmps I0 of the diffusion diode, A
 * @param ideality n of the diffusion diode
 * @param recombinationAmps I02 of a second diode with ideality 2, A; 0 for none
 * @param seriesOhms Rs, ohm
 * @param shuntOhms Rsh, ohm
 * @param photocurrentTempCoeff relative, 1/K
 * @param breakdownShare a of Bishop's avalanche term; 0 for none
 * @param breakdownVolts breakdown voltage, V, negative
 * @param breakdownExponent m of Bishop's avalanche term
 */
public record SimCell(
    double photocurrentAmps,
    double saturationAmps,
    double ideality,
    double recombinationAmps,
    double seriesOhms,
    double shuntOhms,
    double photocurrentTempCoeff,
    double breakdownShare,
    double breakdownVolts,
    double breakdownExponent) {

  /**
   * A cell of the profile with the breakdown of a back-contact cell.
   *
   * @param cell five parameters
   * @return the same cell; breakdown share 1.036748e-4, exponent 3.284629 and -5.52726 V as
   *     published with the PVMismatch library for such a cell
   */
  public static SimCell of(CellParameters cell) {
    return new SimCell(
        cell.photocurrentAmps(),
        cell.saturationAmps(),
        cell.ideality(),
        0,
        cell.seriesOhms(),
        cell.shuntOhms(),
        cell.photocurrentTempCoeffPerKelvin(),
        1.036748e-4,
        -5.52726,
        3.284629);
  }

  /**
   * The cell with other health.
   *
   * @param photocurrentFactor on IL
   * @param shuntFactor on Rsh
   * @param seriesFactor on Rs
   * @param addedRecombinationAmps added to I02, A
   * @return a new cell
   */
  public SimCell aged(
      double photocurrentFactor,
      double shuntFactor,
      double seriesFactor,
      double addedRecombinationAmps) {
    return new SimCell(
        photocurrentAmps * photocurrentFactor,
        saturationAmps,
        ideality,
        recombinationAmps + addedRecombinationAmps,
        seriesOhms * seriesFactor,
        shuntOhms * shuntFactor,
        photocurrentTempCoeff,
        breakdownShare,
        breakdownVolts,
        breakdownExponent);
  }
}
