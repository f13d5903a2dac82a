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
 */
public record EstimatorSettings(
    CellParameters cell,
    CellSpread cellSpread,
    int seriesCells,
    int parallelStrings,
    Thermal thermal,
    Rotor rotor,
    Sensors sensors,
    TimeModel timing) {

  /**
   * The array that these settings describe.
   *
   * @return a new one, at 1 sun and 25 degrees Celsius
   */
  public SolarArray newArray() {
    return new SolarArray(cell, seriesCells, parallelStrings);
  }

  /**
   * Uncertainty of the cell constants.
   *
   * <p>The constructor throws {@link IllegalArgumentException} with rule and value where one is out
   * of range or NaN.
   *
   * @param seriesLogSd of the logarithm of the series resistance
   * @param idealityLogSd of the logarithm of the ideality, open-circuit voltage held
   */
  public record CellSpread(double seriesLogSd, double idealityLogSd) {

    /** Soldered and covered cells against their sheet: common practice, no source. */
    public static final CellSpread DEFAULT = new CellSpread(0.12, 0.02);

    public CellSpread {
      checkRange("seriesLogSd", seriesLogSd, 0, 1);
      checkRange("idealityLogSd", idealityLogSd, 0, 1);
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
