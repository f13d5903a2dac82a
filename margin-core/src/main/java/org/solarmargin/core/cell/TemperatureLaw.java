package org.solarmargin.core.cell;

/**
 * The growth of the saturation current with temperature that makes the open-circuit voltage fall by
 * a stated coefficient.
 *
 * <p>W. De Soto, S. Klein, W. Beckman (Solar Energy 80, 2006, 78-88) use {@code I0 = I0ref (T /
 * Tref)^3 exp(Eref / (k Tref) - E(T) / (k T))} with silicon's band gap, which falls linearly with
 * temperature. A linear band gap is equivalent to a constant one of its value extrapolated to 0 K,
 * so
 *
 * <pre>  ln(I0 / I0ref) = 3 (ln(T / Tref) - x / Tref) + s x,   x = Tref^2 (1 / Tref - 1 / T)</pre>
 *
 * <p>where {@code s = d ln I0 / dT} at Tref is {@code 3 / Tref + Eg0 / (k Tref^2)}. With an
 * ideality n fitted to a curve, silicon's own band gap makes the voltage fall by {@code n (Eg0 / T
 * + 3 k / q) - Voc / T}: 2.5 to 3.3 mV/K for each cell for n of 1.06 to 1.28, whereas modules show
 * 2.1 to 2.2. The band gap used here is therefore an effective one, solved from the coefficient.
 * With {@code F = I0 exp(V / a)} the diode's current at the open-circuit voltage V, {@code a = n k
 * T / q}, G the shunt conductance and A and B the relative coefficients of photocurrent and V,
 * differentiating {@code IL + I0 = F + G V} with respect to temperature gives
 *
 * <pre>  s = (A IL + F V / (a T) - B V (F / a + G)) / (F - I0),   Eg0 = k Tref^2 (s - 3 / Tref)
 * </pre>
 *
 * <p>Accuracy: the slope of the open-circuit voltage at reference conditions equals the stated one
 * to 1e-5 ({@code TemperatureLawTest}) if the shunt takes up to 30 % of the photocurrent there. A
 * shunt that takes more would determine the voltage by itself; this law limits its share to 30 %.
 * With De Soto's own coefficient the published values are reproduced to ten digits ({@code
 * DeSotoTest}).
 *
 * <p>A change of the coefficient pivots about the bench temperature, so that the curve measured
 * there does not change.
 */
final class TemperatureLaw {

  private static final double REFERENCE = Physics.REFERENCE_KELVIN;

  /** Exponent of temperature in the saturation current's prefactor. */
  private static final double POWER = 3;

  /** Silicon's band gap extrapolated linearly to 0 K, V. */
  private static final double SILICON_GAP_VOLTS =
      Physics.BAND_GAP_VOLTS * (1 - Physics.BAND_GAP_TEMP_COEFF * REFERENCE);

  private static final double MOST_SHUNT_SHARE = 0.3;
  private static final int ITERATIONS = 60;
  private static final double TOLERANCE = 1e-14;

  private final double growth;
  private final double growthPerCoeff;
  private final double benchSpan;

  TemperatureLaw(CellParameters cell) {
    OpenCircuit open = new OpenCircuit(cell);
    growth = open.growth(cell.vocTempCoeffPerKelvin());
    growthPerCoeff = open.growthPerCoeff();
    benchSpan = span(cell.benchCelsius() + Physics.ZERO_CELSIUS_KELVIN);
  }

  /** The coefficient of the open-circuit voltage that silicon's own band gap would give, 1/K. */
  static double siliconVocCoeff(CellParameters cell) {
    double silicon =
        POWER / REFERENCE
            + SILICON_GAP_VOLTS / (Physics.BOLTZMANN_VOLTS_PER_KELVIN * REFERENCE * REFERENCE);
    OpenCircuit open = new OpenCircuit(cell);
    return (silicon - open.growth(0)) / open.growthPerCoeff();
  }

  /** x, the temperature above the reference on the scale of 1 / T, K. */
  static double span(double kelvin) {
    return REFERENCE * (kelvin - REFERENCE) / kelvin;
  }

  /**
   * Logarithm of the ratio of the saturation current to that at reference conditions.
   *
   * @param kelvin cell temperature
   * @param coeffShift added to the coefficient, 1/K
   */
  double logGrowth(double kelvin, double coeffShift) {
    double x = span(kelvin);
    return POWER * (Math.log(kelvin / REFERENCE) - x / REFERENCE)
        + growth * x
        + coeffShift * growthPerCoeff * (x - benchSpan);
  }

  /** Derivative of {@link #logGrowth} with respect to temperature, 1/K. */
  double perKelvin(double kelvin, double coeffShift) {
    double ratio = REFERENCE / kelvin;
    return POWER / kelvin
        + (growth - POWER / REFERENCE + coeffShift * growthPerCoeff) * ratio * ratio;
  }

  /** Derivative of {@link #logGrowth} with respect to the coefficient, K. */
  double perCoefficient(double kelvin) {
    return growthPerCoeff * (span(kelvin) - benchSpan);
  }

  /** Approximate derivative of s with respect to ln(IL / I0), 1/K. */
  static double growthPerLogRatio(double vocCoeff) {
    return 1 / REFERENCE - vocCoeff;
  }

  /** The relation between s and the open circuit at reference conditions. */
  private static final class OpenCircuit {

    private final CellParameters cell;
    private final double thermalVolts;
    private final double siemens;
    private final double volts;
    private final double diodeAmps;

    OpenCircuit(CellParameters cell) {
      this.cell = cell;
      thermalVolts = cell.ideality() * Physics.BOLTZMANN_VOLTS_PER_KELVIN * REFERENCE;
      double all = cell.photocurrentAmps() + cell.saturationAmps();
      double v = thermalVolts * Math.log(all / cell.saturationAmps());
      siemens = Math.min(1 / cell.shuntOhms(), MOST_SHUNT_SHARE * all / v);
      // the function is convex: started to the right of the root, Newton's method does not
      // overshoot
      for (int i = 0; i < ITERATIONS; i++) {
        double e = cell.saturationAmps() * Math.exp(v / thermalVolts);
        double step = (all - e - v * siemens) / (e / thermalVolts + siemens);
        v += step;
        if (Math.abs(step) <= TOLERANCE * v) {
          break;
        }
      }
      volts = v;
      diodeAmps = all - v * siemens;
    }

    /** s for a relative coefficient of the open-circuit voltage, 1/K. */
    double growth(double vocCoeff) {
      double photo = cell.photocurrentTempCoeffPerKelvin() * cell.photocurrentAmps();
      double thermal = diodeAmps * volts / (thermalVolts * REFERENCE);
      return (photo + thermal) / (diodeAmps - cell.saturationAmps()) + vocCoeff * growthPerCoeff();
    }

    /** Derivative of s with respect to that coefficient. */
    double growthPerCoeff() {
      double conductance = diodeAmps / thermalVolts + siemens;
      return -volts * conductance / (diodeAmps - cell.saturationAmps());
    }
  }
}
