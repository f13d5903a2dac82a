package org.solarmargin.core.cell;

/**
 * The five single-diode parameters of one cell at 1000 W/m2 and 25 degrees Celsius, and its
 * temperature coefficients.
 *
 * <p>Model: {@code I = IL - I0 (exp((V + I Rs) / (n k T / q)) - 1) - (V + I Rs) / Rsh}.
 *
 * <p>The constructor throws {@link IllegalArgumentException}, with the rule and the value, if a
 * value is out of range or NaN.
 *
 * @param photocurrentAmps IL, A, more than 0
 * @param saturationAmps I0, A, more than 0 and less than IL
 * @param ideality n, 0.3 to 5
 * @param seriesOhms Rs, ohm, 0 or more
 * @param shuntOhms Rsh, ohm, more than 0; positive infinity means no shunt
 * @param photocurrentTempCoeffPerKelvin relative change of IL, 1/K, within +-0.01
 * @param vocTempCoeffPerKelvin relative change of the open-circuit voltage at 1000 W/m2 and 25
 *     degrees Celsius, 1/K, -0.01 to below 0; the five parameters do not determine it
 * @param benchCelsius cell temperature at which the parameters were measured, -60 to 150: a change
 *     of the temperature coefficient does not change the curve at this temperature
 */
public record CellParameters(
    double photocurrentAmps,
    double saturationAmps,
    double ideality,
    double seriesOhms,
    double shuntOhms,
    double photocurrentTempCoeffPerKelvin,
    double vocTempCoeffPerKelvin,
    double benchCelsius) {

  private static final int TRANSLATIONS = 100;
  private static final double TRANSLATED = 1e-13;

  public CellParameters {
    check(
        photocurrentAmps > 0 && photocurrentAmps < 1e4,
        "photocurrentAmps must be > 0",
        photocurrentAmps);
    check(
        saturationAmps > 0 && saturationAmps < photocurrentAmps,
        "saturationAmps must be > 0 and below the photocurrent",
        saturationAmps);
    check(ideality >= 0.3 && ideality <= 5, "ideality must be in [0.3, 5]", ideality);
    check(seriesOhms >= 0 && seriesOhms < 1e3, "seriesOhms must be >= 0", seriesOhms);
    check(shuntOhms > 0, "shuntOhms must be > 0", shuntOhms);
    check(
        Math.abs(photocurrentTempCoeffPerKelvin) <= 0.01,
        "photocurrentTempCoeffPerKelvin must be within +-0.01",
        photocurrentTempCoeffPerKelvin);
    check(
        vocTempCoeffPerKelvin < 0 && vocTempCoeffPerKelvin >= -0.01,
        "vocTempCoeffPerKelvin must be in [-0.01, 0)",
        vocTempCoeffPerKelvin);
    check(
        benchCelsius >= -60 && benchCelsius <= 150,
        "benchCelsius must be in [-60, 150]",
        benchCelsius);
  }

  /**
   * Creates a cell measured at 25 degrees Celsius whose temperature coefficient of the open-circuit
   * voltage is not known: {@link DataSheet#DEFAULT_VOC_TEMP_COEFF_PER_KELVIN} is used.
   *
   * @param photocurrentAmps IL, A
   * @param saturationAmps I0, A
   * @param ideality n
   * @param seriesOhms Rs, ohm
   * @param shuntOhms Rsh, ohm
   * @param photocurrentTempCoeffPerKelvin relative change of IL, 1/K
   */
  public CellParameters(
      double photocurrentAmps,
      double saturationAmps,
      double ideality,
      double seriesOhms,
      double shuntOhms,
      double photocurrentTempCoeffPerKelvin) {
    this(
        photocurrentAmps,
        saturationAmps,
        ideality,
        seriesOhms,
        shuntOhms,
        photocurrentTempCoeffPerKelvin,
        DataSheet.DEFAULT_VOC_TEMP_COEFF_PER_KELVIN,
        Physics.REFERENCE_KELVIN - Physics.ZERO_CELSIUS_KELVIN);
  }

  /**
   * The same cell with another temperature coefficient of the open-circuit voltage.
   *
   * @param coeffPerKelvin relative change of the open-circuit voltage, 1/K, -0.01 to below 0
   * @param celsius cell temperature at which the parameters were measured, -60 to 150
   * @return a new cell
   */
  public CellParameters withVocTempCoeff(double coeffPerKelvin, double celsius) {
    return new CellParameters(
        photocurrentAmps,
        saturationAmps,
        ideality,
        seriesOhms,
        shuntOhms,
        photocurrentTempCoeffPerKelvin,
        coeffPerKelvin,
        celsius);
  }

  /**
   * Creates a cell whose five parameters were measured at another temperature, translated to 25
   * degrees Celsius by its own temperature law.
   *
   * @param celsius cell temperature at which the parameters hold, -60 to 150; the bench temperature
   *     of the result
   * @param photocurrentAmps IL at that temperature and 1000 W/m2, A
   * @param saturationAmps I0 at that temperature, A
   * @param ideality n
   * @param seriesOhms Rs, ohm
   * @param shuntOhms Rsh in 1000 W/m2, ohm
   * @param photocurrentTempCoeffPerKelvin relative change of IL, 1/K of its value at 25 degrees
   * @param vocTempCoeffPerKelvin relative change of the open-circuit voltage, 1/K of its value at
   *     25 degrees
   * @return parameters whose curve at {@code celsius} is the one given, to 1e-12 in ln I0
   */
  public static CellParameters measuredAt(
      double celsius,
      double photocurrentAmps,
      double saturationAmps,
      double ideality,
      double seriesOhms,
      double shuntOhms,
      double photocurrentTempCoeffPerKelvin,
      double vocTempCoeffPerKelvin) {
    double kelvin = celsius + Physics.ZERO_CELSIUS_KELVIN;
    double rise = photocurrentTempCoeffPerKelvin * (kelvin - Physics.REFERENCE_KELVIN);
    double wanted = Math.log(saturationAmps);
    double log = wanted;
    CellParameters cell = null;
    for (int i = 0; i < TRANSLATIONS; i++) {
      cell =
          new CellParameters(
              photocurrentAmps / (1 + rise),
              Math.exp(log),
              ideality,
              seriesOhms,
              shuntOhms,
              photocurrentTempCoeffPerKelvin,
              vocTempCoeffPerKelvin,
              celsius);
      TemperatureLaw law = new TemperatureLaw(cell);
      // a smaller I0 grows faster, at a nearly constant rate: a Newton step with that rate
      double miss = wanted - log - law.logGrowth(kelvin, 0);
      double rate = TemperatureLaw.growthPerLogRatio(vocTempCoeffPerKelvin);
      double step = miss / (1 - rate * TemperatureLaw.span(kelvin));
      log += step;
      if (Math.abs(step) < TRANSLATED) {
        break;
      }
    }
    return cell;
  }

  private static void check(boolean holds, String rule, double value) {
    if (!holds) {
      throw new IllegalArgumentException(rule + ": " + value);
    }
  }
}
