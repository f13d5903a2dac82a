package org.solarmargin.core.cell;

/**
 * The five single-diode parameters of one cell at 1000 W/m2 and 25 degrees Celsius, and how its
 * photocurrent follows temperature.
 *
 * <p>Model: {@code I = IL - I0 (exp((V + I Rs) / (n k T / q)) - 1) - (V + I Rs) / Rsh}.
 *
 * <p>The constructor throws {@link IllegalArgumentException} with rule and value where one is out
 * of range or NaN.
 *
 * @param photocurrentAmps IL, A, more than 0
 * @param saturationAmps I0, A, more than 0 and less than IL
 * @param ideality n, 0.3 to 5
 * @param seriesOhms Rs, ohm, 0 or more
 * @param shuntOhms Rsh, ohm, more than 0; positive infinity means no shunt
 * @param photocurrentTempCoeffPerKelvin relative change of IL, 1/K, within +-0.01
 */
public record CellParameters(
    double photocurrentAmps,
    double saturationAmps,
    double ideality,
    double seriesOhms,
    double shuntOhms,
    double photocurrentTempCoeffPerKelvin) {

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
  }

  private static void check(boolean holds, String rule, double value) {
    if (!holds) {
      throw new IllegalArgumentException(rule + ": " + value);
    }
  }
}
