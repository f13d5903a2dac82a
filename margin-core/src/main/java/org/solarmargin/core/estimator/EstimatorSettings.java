package org.solarmargin.core.estimator;

import org.solarmargin.core.array.SolarArray;
import org.solarmargin.core.cell.CellParameters;
import org.solarmargin.core.timing.TimeModel;

/**
 * All that the estimator must know of a craft before the first sample. Standard deviations are 1
 * sigma.
 *
 * @param cell one cell at 1000 W/m2 and 25 degrees Celsius
 * @param cellSpread how far the cells in flight may be from {@code cell}
 * @param seriesCells cells in each string
 * @param parallelStrings strings side by side
 * @param thermal how the cells follow light and air
 * @param rotor where the motors are expected
 * @param sensors noise, and what calibration left
 * @param timing which instants readings and throttle belong to
 * @param shadowShare share of the time in flight in which a few cells have less light than the rest
 *     (leaves, droppings, an antenna, a leg), 0 to 0.9: the lower bound carries such a shadow with
 *     this probability until the readings tell
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

  /** Share of shadows where nobody states one: a careful guess, no source. */
  public static final double DEFAULT_SHADOW_SHARE = 0.2;

  public EstimatorSettings {
    checkRange("shadowShare", shadowShare, 0, 0.9);
  }

  /**
   * Settings with the default share of shadows.
   *
   * @param cell one cell at 1000 W/m2 and 25 degrees Celsius
   * @param cellSpread how far the cells in flight may be from {@code cell}
   * @param seriesCells cells in each string
   * @param parallelStrings strings side by side
   * @param thermal how the cells follow light and air
   * @param rotor where the motors are expected
   * @param sensors noise, and what calibration left
   * @param timing which instants readings and throttle belong to
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
   * The same with another time model.
   *
   * @param other which instants readings and throttle belong to
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
   * The same with another thermal model.
   *
   * @param other air and heat of the cells
   * @return new settings
   */
  public EstimatorSettings withThermal(Thermal other) {
    return new EstimatorSettings(
        cell, cellSpread, seriesCells, parallelStrings, other, rotor, sensors, timing, shadowShare);
  }

  /**
   * Uncertainty of the cell constants.
   *
   * <p>The coefficient's error turns the curve about the temperature of the bench, {@link
   * CellParameters#benchCelsius()}, and leaves it as it is there: {@link
   * org.solarmargin.core.cell.CellCurve#setAltered(double, double, double, double, double)} and
   * {@link org.solarmargin.core.cell.CellCurve#atAmpsPerVocCoeff()} have it so. Cells flown 25 K
   * from their bench thus carry a voltage sigma of 25 K times this sigma, 0.5 % by default.
   *
   * <p>The constructor throws {@link IllegalArgumentException} with rule and value where one is out
   * of range or NaN.
   *
   * @param seriesLogSd of the logarithm of the series resistance
   * @param idealityLogSd of the logarithm of the ideality, open-circuit voltage held
   * @param vocCoeffSdPerKelvin of the relative temperature coefficient of the open-circuit voltage,
   *     1/K, 0 to 0.005
   */
  public record CellSpread(double seriesLogSd, double idealityLogSd, double vocCoeffSdPerKelvin) {

    /**
     * Sigma of a coefficient that a sheet states or that fits the technology, 1/K: modules of one
     * technology in the Sandia database (King et al., rows of 2015) lie within -0.427 to -0.336 %/K
     * (monocrystalline, 5 to 95 %), -0.396 to -0.341 (multicrystalline, likewise) and -0.314 to
     * -0.272 (back contact, all 29), sigmas of 0.028, 0.017 and some 0.011 %/K.
     */
    public static final double STATED_VOC_COEFF_SD = 0.0002;

    /**
     * Sigma where nobody states the coefficient, 1/K: two of it about the default of -0.33 %/K hold
     * the 5 to 95 % ranges of all technologies named at {@link
     * org.solarmargin.core.cell.DataSheet#DEFAULT_VOC_TEMP_COEFF_PER_KELVIN}, -0.43 to -0.23.
     */
    public static final double UNSTATED_VOC_COEFF_SD = 0.0005;

    /**
     * Soldered and covered cells against their sheet: common practice, no source; the coefficient
     * as stated.
     */
    public static final CellSpread DEFAULT = new CellSpread(0.12, 0.02, STATED_VOC_COEFF_SD);

    public CellSpread {
      checkRange("seriesLogSd", seriesLogSd, 0, 1);
      checkRange("idealityLogSd", idealityLogSd, 0, 1);
      checkRange("vocCoeffSdPerKelvin", vocCoeffSdPerKelvin, 0, 0.005);
    }
  }

  /**
   * Cell heating: the cells go to {@code ambient + sunRise x suns} with a lag.
   *
   * <p>The constructor throws {@link IllegalArgumentException} with rule and value where one is out
   * of range or NaN.
   *
   * @param ambientCelsius air, -60 to 60
   * @param sunRiseKelvin rise over the air in full sun with rotors turning, 0 to 90
   * @param timeConstantSeconds lag, 0.5 to 3600
   */
  public record Thermal(double ambientCelsius, double sunRiseKelvin, double timeConstantSeconds) {

    public Thermal {
      checkRange("ambientCelsius", ambientCelsius, -60, 60);
      checkRange("sunRiseKelvin", sunRiseKelvin, 0, 90);
      checkRange("timeConstantSeconds", timeConstantSeconds, 0.5, 3600);
    }
  }

  /**
   * Where the motors are expected to work; a starting value, learned on in flight.
   *
   * <p>The constructor throws {@link IllegalArgumentException} with rule and value where one is out
   * of range or NaN.
   *
   * @param hoverThrottle 0.05 to 1
   * @param hoverWatts bus power in hover, housekeeping included, W
   * @param hoverBusVolts bus voltage in hover, V
   * @param known false when the three are a guess
   * @param housekeepingWatts flight controller, radio, ..., W
   */
  public record Rotor(
      double hoverThrottle,
      double hoverWatts,
      double hoverBusVolts,
      boolean known,
      double housekeepingWatts) {

    public Rotor {
      checkRange("hoverThrottle", hoverThrottle, 0.05, 1);
      checkRange("hoverBusVolts", hoverBusVolts, 1e-3, 1e4);
      checkRange("housekeepingWatts", housekeepingWatts, 0, 1e5);
      checkRange("hoverWatts", hoverWatts, housekeepingWatts + 1e-6, 1e6);
    }
  }

  /**
   * Sensors of the bus.
   *
   * <p>The constructor throws {@link IllegalArgumentException} with rule and value where one is out
   * of range or NaN.
   *
   * @param voltageNoiseVolts sample to sample
   * @param currentNoiseAmps sample to sample
   * @param voltageGainSd relative, constant in a flight
   * @param currentGainSd relative, constant in a flight
   * @param currentOffsetSdAmps constant in a flight
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
