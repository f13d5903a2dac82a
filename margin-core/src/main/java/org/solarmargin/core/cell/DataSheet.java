package org.solarmargin.core.cell;

/**
 * The data-sheet values of one cell at 1000 W/m2 and 25 degrees Celsius, and their conversion to
 * the five parameters of the single-diode model.
 *
 * <p>Source: W. De Soto, S. Klein, W. Beckman, Solar Energy 80 (2006) 78-88: short circuit, open
 * circuit, the maximum power point, zero slope of power there, and the temperature coefficient of
 * the open-circuit voltage. The first three are linear in IL, I0 and 1/Rsh once n and Rs are given;
 * for each n, Rs is found by bisection, and n itself by bisection on the temperature coefficient
 * that silicon's own band gap would give. If no physical resistances satisfy both that coefficient
 * and the maximum power point, the maximum power point is met exactly and the nearest n is used;
 * the cell has the data sheet's coefficient in any case, by its effective band gap ({@code
 * TemperatureLaw}).
 *
 * <p>The constructor throws {@link IllegalArgumentException}, with the rule and the value, if a
 * value is out of range or NaN.
 *
 * @param iscAmps short-circuit current, A
 * @param vocVolts open-circuit voltage, V
 * @param imppAmps current at maximum power, A, below Isc
 * @param vmppVolts voltage at maximum power, V, below Voc
 * @param iscTempCoeffPerKelvin relative, 1/K
 * @param vocTempCoeffPerKelvin relative, 1/K, negative
 */
public record DataSheet(
    double iscAmps,
    double vocVolts,
    double imppAmps,
    double vmppVolts,
    double iscTempCoeffPerKelvin,
    double vocTempCoeffPerKelvin) {

  /**
   * Relative temperature coefficient of Isc for crystalline silicon, 1/K (typical of the modules in
   * the Sandia module database).
   */
  public static final double DEFAULT_ISC_TEMP_COEFF_PER_KELVIN = 0.0005;

  /**
   * Relative temperature coefficient of Voc for crystalline silicon, 1/K, used if none is stated:
   * the middle of the published values of the different technologies. Medians of the Sandia module
   * database (King et al., SAND2004-3535; entries of 2015): -0.379 %/K for 137 monocrystalline and
   * -0.368 for 215 multicrystalline modules, -0.272 to -0.314 for 29 back-contact modules; -0.264
   * and -0.233 %/K for newer passivated contacts (EPJ Photovoltaics 2025, 20240072, table 5).
   */
  public static final double DEFAULT_VOC_TEMP_COEFF_PER_KELVIN = -0.0033;

  private static final double IDEALITY_MIN = 0.5;
  private static final double IDEALITY_MAX = 2.5;
  private static final int IDEALITY_STEPS = 80;
  private static final int BISECTIONS = 60;

  public DataSheet {
    check(iscAmps > 0 && iscAmps < 1e3, "Isc must be > 0 A", iscAmps);
    check(vocVolts > 0 && vocVolts < 10, "Voc must be in (0, 10) V for one cell", vocVolts);
    check(
        imppAmps > 0.4 * iscAmps && imppAmps < iscAmps,
        "Impp must be below Isc, above 0.4 Isc",
        imppAmps);
    check(
        vmppVolts > 0.4 * vocVolts && vmppVolts < vocVolts,
        "Vmpp must be below Voc, above 0.4 Voc",
        vmppVolts);
    check(
        Math.abs(iscTempCoeffPerKelvin) <= 0.01,
        "Isc coefficient must be within +-0.01 1/K",
        iscTempCoeffPerKelvin);
    check(
        vocTempCoeffPerKelvin < 0 && vocTempCoeffPerKelvin >= -0.01,
        "Voc coefficient must be in [-0.01, 0) 1/K",
        vocTempCoeffPerKelvin);
  }

  /**
   * The five parameters that reproduce the data sheet.
   *
   * @return parameters whose Isc, Voc, Impp and Vmpp equal the data sheet's to about 1e-9
   * @throws IllegalArgumentException if no single-diode cell passes through the four points
   */
  public CellParameters toParameters() {
    double bestIdeality = Double.NaN;
    double bestMiss = Double.POSITIVE_INFINITY;
    double previous = Double.NaN;
    boolean wasThere = false;
    double lower = Double.NaN;
    double step = (IDEALITY_MAX - IDEALITY_MIN) / IDEALITY_STEPS;
    for (int i = 0; i <= IDEALITY_STEPS; i++) {
      double ideality = IDEALITY_MIN + i * step;
      double miss = coefficientMiss(ideality);
      if (Math.abs(miss) < bestMiss) {
        bestMiss = Math.abs(miss);
        bestIdeality = ideality;
      }
      // the miss falls with the ideality; the root may lie next to a range in which no cell exists
      boolean crossed = previous > 0 && !(miss > 0);
      boolean entered = !wasThere && miss <= 0;
      if (crossed || entered) {
        lower = ideality - step;
        break;
      }
      wasThere = !Double.isNaN(miss);
      previous = miss;
    }
    if (Double.isNaN(bestIdeality)) {
      throw new IllegalArgumentException(
          "no single-diode cell passes through these points: Isc "
              + iscAmps
              + " A, Voc "
              + vocVolts
              + " V, Impp "
              + imppAmps
              + " A, Vmpp "
              + vmppVolts
              + " V");
    }
    if (Double.isNaN(lower)) {
      return withIdeality(bestIdeality);
    }
    double found = bisectIdeality(lower, lower + step, wasThere);
    double miss = Math.abs(coefficientMiss(found));
    return withIdeality(miss <= bestMiss ? found : bestIdeality);
  }

  /**
   * Bisects for the ideality; a range without a cell lies above the root or below it, as stated.
   */
  private double bisectIdeality(double low, double high, boolean noneIsAbove) {
    double below = low;
    double above = high;
    for (int i = 0; i < BISECTIONS; i++) {
      double middle = 0.5 * (below + above);
      double miss = coefficientMiss(middle);
      boolean tooLow = Double.isNaN(miss) ? !noneIsAbove : miss > 0;
      if (tooLow) {
        below = middle;
      } else {
        above = middle;
      }
    }
    return noneIsAbove ? below : above;
  }

  /**
   * The coefficient that silicon's own band gap gives a cell of this ideality, minus the data
   * sheet's, 1/K; NaN if there is no cell.
   */
  private double coefficientMiss(double ideality) {
    CellParameters cell = withIdeality(ideality);
    return cell == null ? Double.NaN : TemperatureLaw.siliconVocCoeff(cell) - vocTempCoeffPerKelvin;
  }

  /** The cell through the points whose power peaks at the knee; null if none is physical. */
  private CellParameters withIdeality(double ideality) {
    double thermalVolts = ideality * Physics.BOLTZMANN_VOLTS_PER_KELVIN * Physics.REFERENCE_KELVIN;
    // the slope of power at the knee changes sign once over the series resistance
    double low = 0;
    double high = (vocVolts - vmppVolts) / imppAmps;
    if (powerSlope(thermalVolts, low) * powerSlope(thermalVolts, high * 0.999) >= 0) {
      return null;
    }
    boolean risingAtLow = powerSlope(thermalVolts, low) > 0;
    for (int i = 0; i < BISECTIONS; i++) {
      double middle = 0.5 * (low + high);
      if (powerSlope(thermalVolts, middle) > 0 == risingAtLow) {
        low = middle;
      } else {
        high = middle;
      }
    }
    double seriesOhms = 0.5 * (low + high);
    double[] x = linearPart(thermalVolts, seriesOhms);
    if (!(x[0] > 0 && x[1] > 0 && x[1] < x[0] && x[2] >= 0)) {
      return null;
    }
    double shuntOhms = x[2] > 0 ? 1 / x[2] : Double.POSITIVE_INFINITY;
    double coeff = iscTempCoeffPerKelvin * iscAmps / x[0];
    return new CellParameters(
        x[0],
        x[1],
        ideality,
        seriesOhms,
        shuntOhms,
        coeff,
        vocTempCoeffPerKelvin,
        Physics.REFERENCE_KELVIN - Physics.ZERO_CELSIUS_KELVIN);
  }

  /** dP/dV at the data sheet's maximum power point, A. */
  private double powerSlope(double thermalVolts, double seriesOhms) {
    double[] x = linearPart(thermalVolts, seriesOhms);
    double diodeVolts = vmppVolts + imppAmps * seriesOhms;
    double conductance = x[1] / thermalVolts * Math.exp(diodeVolts / thermalVolts) + x[2];
    return imppAmps - vmppVolts * conductance / (1 + conductance * seriesOhms);
  }

  /** IL, I0 and 1/Rsh of the curve through the three points. */
  private double[] linearPart(double thermalVolts, double seriesOhms) {
    double uShort = iscAmps * seriesOhms;
    double uKnee = vmppVolts + imppAmps * seriesOhms;
    double eShort = Math.expm1(uShort / thermalVolts);
    double eKnee = Math.expm1(uKnee / thermalVolts);
    double eOpen = Math.expm1(vocVolts / thermalVolts);
    // subtract the short-circuit equation to eliminate IL, then Cramer's rule for I0 and 1/Rsh
    double a = eOpen - eShort;
    double b = vocVolts - uShort;
    double c = eKnee - eShort;
    double d = uKnee - uShort;
    double determinant = a * d - b * c;
    double saturation = (iscAmps * d - (iscAmps - imppAmps) * b) / determinant;
    double conductance = (a * (iscAmps - imppAmps) - c * iscAmps) / determinant;
    return new double[] {
      iscAmps + saturation * eShort + conductance * uShort, saturation, conductance
    };
  }

  private static void check(boolean holds, String rule, double value) {
    if (!holds) {
      throw new IllegalArgumentException(rule + ": " + value);
    }
  }
}
