package org.solarmargin.core.cell;

/**
 * How the saturation current grows with temperature, so that the open-circuit voltage falls by a
 * stated coefficient.
 *
 * <p>W. De Soto, S. Klein, W. Beckman (Solar Energy 80, 2006, 78-88) have {@code I0 = I0ref (T /
 * Tref)^3 exp(Eref / (k Tref) - E(T) / (k T))} with silicon's gap, falling linearly with
 * temperature. A linear gap is the same as its value extrapolated to 0 K, held constant, so
 *
 * <pre>  ln(I0 / I0ref) = 3 (ln(T / Tref) - x / Tref) + s x,   x = Tref^2 (1 / Tref - 1 / T)</pre>
 *
 * <p>where {@code s = d ln I0 / dT} at Tref is {@code 3 / Tref + Eg0 / (k Tref^2)}. With an
 * ideality n fitted to a curve, silicon's own gap makes the voltage fall by {@code n (Eg0 / T + 3 k
 * / q) - Voc / T}: 2.5 to 3.3 mV/K a cell for n of 1.06 to 1.28, where modules show 2.1 to 2.2. So
 * the gap is not silicon's here but an effective one, solved from the coefficient. With {@code F =
 * I0 exp(V / a)} the diode's current at the open-circuit voltage V, {@code a = n k T / q}, G the
 * shunt conductance and A and B the relative coefficients of photocurrent and V, differentiating
 * {@code IL + I0 = F + G V} by temperature gives
 *
 * <pre>  s = (A IL + F V / (a T) - B V (F / a + G)) / (F - I0),   Eg0 = k Tref^2 (s - 3 / Tref)
 * </pre>
 *
 * <p>Accuracy: the slope of the open-circuit voltage at reference conditions is the stated one to
 * 1e-5 ({@code TemperatureLawTest}) where the shunt takes up to 30 % of the photocurrent there; a
 * shunt that takes more would hold the voltage by itself, and counts as 30 % in this law. With De
 * Soto's own coefficient the published rows come back to ten digits ({@code DeSotoTest}).
 *
 * <p>A change of the coefficient turns the law about the temperature of the bench: what was
 * measured there stands.
 */
final class TemperatureLaw {

  private static final double REFERENCE = Physics.REFERENCE_KELVIN;

  /** Power of temperature in the saturation current beside the gap. */
  private static final double POWER = 3;

  /** Silicon's gap extrapolated linearly to 0 K, V. */
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

  /** The coefficient of the open-circuit voltage that silicon's own gap would give, 1/K. */
  static double siliconVocCoeff(CellParameters cell) {
    double silicon =
        POWER / REFERENCE
            + SILICON_GAP_VOLTS / (Physics.BOLTZMANN_VOLTS_PER_KELVIN * REFERENCE * REFERENCE);
    OpenCircuit open = new OpenCircuit(cell);
    return (silicon - open.growth(0)) / open.growthPerCoeff();
  }

  /** x: temperature over the reference on the scale of 1 / T, K. */
  static double span(double kelvin) {
    return REFERENCE * (kelvin - REFERENCE) / kelvin;
  }

  /**
   * Logarithm of the saturation current over that at reference conditions.
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

  /** Change of {@link #logGrowth} with temperature, 1/K. */
  double perKelvin(double kelvin, double coeffShift) {
    double ratio = REFERENCE / kelvin;
    return POWER / kelvin
        + (growth - POWER / REFERENCE + coeffShift * growthPerCoeff) * ratio * ratio;
  }

  /** Change of {@link #logGrowth} with the coefficient, K. */
  double perCoefficient(double kelvin) {
    return growthPerCoeff * (span(kelvin) - benchSpan);
  }

  /** Roughly, change of s with ln(IL / I0), 1/K. */
  static double growthPerLogRatio(double vocCoeff) {
    return 1 / REFERENCE - vocCoeff;
  }

  /** What the open circuit at reference conditions says of s. */
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
      // from the right of the root the convex function is approached without overshoot
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

    /** Change of s with that coefficient. */
    double growthPerCoeff() {
      double conductance = diodeAmps / thermalVolts + siemens;
      return -volts * conductance / (diodeAmps - cell.saturationAmps());
    }
  }
}
