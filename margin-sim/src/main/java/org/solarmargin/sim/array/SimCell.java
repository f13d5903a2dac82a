package org.solarmargin.sim.array;

import org.solarmargin.core.cell.CellParameters;

/**
 * The parameters of one cell of the simulator at 1000 W/m2 and 25 degrees Celsius.
 *
 * <p>Temperature: modules are rated by an open-circuit voltage that is linear in temperature (IEC
 * 60891; D. King, W. Boyson, J. Kratochvil, SAND2004-3535, equation 3). The diffusion diode's
 * voltage at the photocurrent of one sun therefore follows a straight line here, from which the
 * saturation current follows. The estimator has a band gap instead; {@code NgspiceTemperatureTest}
 * compares the line with the band gap of ngspice's diode.
 *
 * @param photocurrentAmps IL, A
 * @param saturationAmps I0 of the diffusion diode, A
 * @param ideality n of the diffusion diode
 * @param recombinationAmps I02 of a second diode with ideality 2, A; 0 for none
 * @param seriesOhms Rs, ohm
 * @param shuntOhms Rsh, ohm
 * @param photocurrentTempCoeff relative, 1/K
 * @param vocTempCoeff relative change of the diffusion diode's voltage, 1/K of that at 25 degrees;
 *     the cell's open-circuit voltage deviates from it by the effect of shunt and second diode
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
    double vocTempCoeff,
    double breakdownShare,
    double breakdownVolts,
    double breakdownExponent) {

  private static final double K = 1.380649e-23 / 1.602176634e-19;
  private static final double REFERENCE_KELVIN = 298.15;

  /**
   * Creates a cell with the profile's parameters and the breakdown of a back-contact cell.
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
        cell.vocTempCoeffPerKelvin(),
        1.036748e-4,
        -5.52726,
        3.284629);
  }

  /**
   * The cell with ageing or damage.
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
        vocTempCoeff,
        breakdownShare,
        breakdownVolts,
        breakdownExponent);
  }

  /**
   * The cell with another temperature coefficient and the same curve at its bench temperature.
   *
   * @param shift added to the coefficient, 1/K
   * @param benchCelsius temperature at which the curve does not change, degrees Celsius
   * @return a new cell
   */
  public SimCell withShiftedVocCoeff(double shift, double benchCelsius) {
    double above = benchCelsius - 25;
    double reference = ideality * K * REFERENCE_KELVIN;
    double volts = reference * StrictMath.log(photocurrentAmps / saturationAmps);
    double coeff = vocTempCoeff + shift;
    double turnedVolts = volts * (1 + vocTempCoeff * above) / (1 + coeff * above);
    return new SimCell(
        photocurrentAmps,
        photocurrentAmps * StrictMath.exp(-turnedVolts / reference),
        ideality,
        recombinationAmps,
        seriesOhms,
        shuntOhms,
        photocurrentTempCoeff,
        coeff,
        breakdownShare,
        breakdownVolts,
        breakdownExponent);
  }
}
