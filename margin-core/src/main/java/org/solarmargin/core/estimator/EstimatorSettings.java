package org.solarmargin.core.estimator;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.timing.TimeModel;

/**
 * The estimator's prior knowledge of a craft. All standard deviations are 1 sigma.
 *
 * @param cell one cell at 1000 W/m2 and 25 degrees Celsius
 * @param cellSpread uncertainty of the cells in flight relative to {@code cell}
 * @param seriesCells cells in each string
 * @param parallelStrings strings in parallel
 * @param thermal cell temperature as a function of light and air
 * @param rotor expected hover point of the motors
 * @param sensors noise and residual calibration errors
 * @param timing time model of readings and throttle
 * @param shadowShare share of the time in flight in which a few cells have less light than the rest
 *     (leaves, droppings, an antenna, a leg), 0 to 0.9: the lower bound assumes such a shadow with
 *     this probability until the readings provide evidence
 */
public record EstimatorSettings(
    CellParameters cell,
    CellSpread cellSpread,
    int seriesCells,
    int parallelStrings,
    Thermal thermal,
    Rotor rotor,
    Sensors sensors,
    TimeModel timing,
    double shadowShare) {

  /** Share of shadows if none is stated: a cautious guess without a source. */
  public static final double DEFAULT_SHADOW_SHARE = 0.2;

  public EstimatorSettings {
    checkRange("shadowShare", shadowShare, 0, 0.9);
  }

  /**
   * Creates settings with the default share of shadows.
   *
   * @param cell one cell at 1000 W/m2 and 25 degrees Celsius
   * @param cellSpread uncertainty of the cells in flight relative to {@code cell}
   * @param seriesCells cells in each string
   * @param parallelStrings strings in parallel
   * @param thermal cell temperature as a function of light and air
   * @param rotor expected hover point of the motors
   * @param sensors noise and residual calibration errors
   * @param timing time model of readings and throttle
   */
  public EstimatorSettings(
      CellParameters cell,
      CellSpread cellSpread,
      int seriesCells,
      int parallelStrings,
      Thermal thermal,
      Rotor rotor,
      Sensors sensors,
      TimeModel timing) {
    this(
        cell,
        cellSpread,
        seriesCells,
        parallelStrings,
        thermal,
        rotor,
        sensors,
        timing,
        DEFAULT_SHADOW_SHARE);
  }

  /**
   * The array that these settings describe.
   *
   * @return a new one, at 1 sun and 25 degrees Celsius
   */
  public SolarArray newArray() {
    return new SolarArray(cell, seriesCells, parallelStrings);
  }

  /**
   * The same settings with another time model.
   *
   * @param other time model of readings and throttle
   * @return new settings
   */
  public EstimatorSettings withTiming(TimeModel other) {
    return new EstimatorSettings(
        cell,
        cellSpread,
        seriesCells,
        parallelStrings,
        thermal,
        rotor,
        sensors,
        other,
        shadowShare);
  }

  /**
   * The same settings with another thermal model.
   *
   * @param other cell temperature as a function of light and air
   * @return new settings
   */
  public EstimatorSettings withThermal(Thermal other) {
    return new EstimatorSettings(
        cell, cellSpread, seriesCells, parallelStrings, other, rotor, sensors, timing, shadowShare);
  }

  /**
   * Uncertainty of the cell constants.
   *
   * <p>An error of the temperature coefficient does not change the curve at the bench temperature,
   * {@link CellParameters#benchCelsius()}; see {@link
   * org.solarmargin.core.cell.CellCurve#setAltered(double, double, double, double, double)} and
   * {@link org.solarmargin.core.cell.CellCurve#atAmpsPerVocCoeff()}. The relative voltage sigma of
   * cells that fly 25 K from their bench temperature is therefore 25 K times this sigma, 0.5 % by
   * default.
   *
   * <p>The constructor throws {@link IllegalArgumentException}, with the rule and the value, if a
   * value is out of range or NaN.
   *
   * @param seriesLogSd sigma of the logarithm of the series resistance, 0 to 1
   * @param idealityLogSd sigma of the logarithm of the ideality at constant open-circuit voltage, 0
   *     to 1
   * @param vocCoeffSdPerKelvin sigma of the relative temperature coefficient of the open-circuit
   *     voltage, 1/K, 0 to 0.005
   */
  public record CellSpread(double seriesLogSd, double idealityLogSd, double vocCoeffSdPerKelvin) {

    /**
     * Sigma of a coefficient that is taken from a data sheet or known for the technology, 1/K: the
     * modules of one technology in the Sandia database (King et al., entries of 2015) lie within
     * -0.427 to -0.336 %/K (monocrystalline, 5 to 95 %), -0.396 to -0.341 (multicrystalline, 5 to
     * 95 %) and -0.314 to -0.272 (back contact, all 29), with sigmas of 0.028, 0.017 and about
     * 0.011 %/K.
     */
    public static final double STATED_VOC_COEFF_SD = 0.0002;

    /**
     * Sigma if the coefficient is not known, 1/K: two sigmas about the default of -0.33 %/K cover
     * the 5 to 95 % ranges of all technologies named at {@link
     * org.solarmargin.core.cell.DataSheet#DEFAULT_VOC_TEMP_COEFF_PER_KELVIN}, -0.43 to -0.23.
     */
    public static final double UNSTATED_VOC_COEFF_SD = 0.0005;

    /**
     * Soldered and laminated cells relative to their data sheet (common practice, no source), with
     * a known temperature coefficient.
     */
    public static final CellSpread DEFAULT = new CellSpread(0.12, 0.02, STATED_VOC_COEFF_SD);

    public CellSpread {
      checkRange("seriesLogSd", seriesLogSd, 0, 1);
      checkRange("idealityLogSd", idealityLogSd, 0, 1);
      checkRange("vocCoeffSdPerKelvin", vocCoeffSdPerKelvin, 0, 0.005);
    }
  }

  /**
   * Thermal model: the cell temperature approaches {@code ambient + sunRise x suns} with a
   * first-order lag.
   *
   * <p>The constructor throws {@link IllegalArgumentException}, with the rule and the value, if a
   * value is out of range or NaN.
   *
   * @param ambientCelsius air temperature, degrees Celsius, -60 to 60
   * @param sunRiseKelvin rise above the air in full sun with rotors turning, K, 0 to 90
   * @param timeConstantSeconds time constant of the lag, s, 0.5 to 3600
   */
  public record Thermal(double ambientCelsius, double sunRiseKelvin, double timeConstantSeconds) {

    public Thermal {
      checkRange("ambientCelsius", ambientCelsius, -60, 60);
      checkRange("sunRiseKelvin", sunRiseKelvin, 0, 90);
      checkRange("timeConstantSeconds", timeConstantSeconds, 0.5, 3600);
    }
  }

  /**
   * Expected hover point of the motors: an initial value, which is refined in flight.
   *
   * <p>The constructor throws {@link IllegalArgumentException}, with the rule and the value, if a
   * value is out of range or NaN.
   *
   * @param hoverThrottle throttle in hover, 0.05 to 1
   * @param hoverWatts bus power in hover, including housekeeping, W
   * @param hoverBusVolts bus voltage in hover, V
   * @param known false if these three values are a guess
   * @param housekeepingWatts power of flight controller, radio and the like, W
   */
  public record Rotor(
      double hoverThrottle,
      double hoverWatts,
      double hoverBusVolts,
      boolean known,
      double housekeepingWatts) {

    private static final double AIRBORNE_SHARE = 0.4;

    public Rotor {
      checkRange("hoverThrottle", hoverThrottle, 0.05, 1);
      checkRange("hoverBusVolts", hoverBusVolts, 1e-3, 1e4);
      checkRange("housekeepingWatts", housekeepingWatts, 0, 1e5);
      checkRange("hoverWatts", hoverWatts, housekeepingWatts + 1e-6, 1e6);
    }

    /**
     * Throttle from which the craft is taken to be in the air: 40 % of that in hover, an
     * engineering judgement.
     *
     * @return 0 to 1
     */
    public double airborneThrottle() {
      return AIRBORNE_SHARE * hoverThrottle;
    }
  }

  /**
   * Errors of the bus sensors, 1 sigma.
   *
   * <p>The constructor throws {@link IllegalArgumentException}, with the rule and the value, if a
   * value is out of range or NaN.
   *
   * @param voltageNoiseVolts noise from sample to sample, V
   * @param currentNoiseAmps noise from sample to sample, A
   * @param voltageGainSd relative gain error, constant during a flight
   * @param currentGainSd relative gain error, constant during a flight
   * @param currentOffsetSdAmps offset, constant during a flight, A
   */
  public record Sensors(
      double voltageNoiseVolts,
      double currentNoiseAmps,
      double voltageGainSd,
      double currentGainSd,
      double currentOffsetSdAmps) {

    public Sensors {
      checkRange("voltageNoiseVolts", voltageNoiseVolts, 1e-6, 100);
      checkRange("currentNoiseAmps", currentNoiseAmps, 1e-6, 100);
      checkRange("voltageGainSd", voltageGainSd, 0, 0.5);
      checkRange("currentGainSd", currentGainSd, 0, 0.5);
      checkRange("currentOffsetSdAmps", currentOffsetSdAmps, 0, 100);
    }
  }

  private static void checkRange(String name, double value, double low, double high) {
    if (!(value >= low && value <= high)) {
      throw new IllegalArgumentException(
          name + " must be in [" + low + ", " + high + "]: " + value);
    }
  }
}
