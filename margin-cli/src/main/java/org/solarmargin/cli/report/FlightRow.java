package org.solarmargin.cli.report;

import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.MarginReading;

/**
 * The values of one accepted sample shown in the page.
 *
 * @param read logged values
 * @param power estimated values
 * @param cells light and cell temperature
 * @param status ordinal of the status
 * @param level ordinal of the alert level
 * @param truth true available power, W; NaN if not known
 */
record FlightRow(Read read, Power power, Cells cells, int status, int level, double truth) {

  /**
   * Logged values.
   *
   * @param seconds time in the log, s
   * @param volts bus voltage read, V
   * @param amps bus current read, A
   * @param throttle 0 to 1
   */
  record Read(double seconds, double volts, double amps, double throttle) {}

  /**
   * Estimated values.
   *
   * @param available W
   * @param low lower bound of it, W
   * @param demand W
   * @param mppVolts V
   * @param ceiling 0 to 1
   * @param lift percent
   */
  record Power(
      double available, double low, double demand, double mppVolts, double ceiling, double lift) {}

  /**
   * Light and cell temperature.
   *
   * @param suns light, suns
   * @param celsius cell temperature, degrees Celsius
   */
  record Cells(double suns, double celsius) {}

  static FlightRow of(Read read, MarginReading reading, AlertLevel level, double truth) {
    return new FlightRow(
        read,
        new Power(
            reading.availableWatts(),
            reading.availableLowWatts(),
            reading.demandWatts(),
            reading.peakVolts(),
            reading.throttleCeiling(),
            reading.liftReservePercent()),
        new Cells(reading.suns(), reading.cellCelsius()),
        reading.status().ordinal(),
        level.ordinal(),
        truth);
  }

  double seconds() {
    return read.seconds();
  }

  /** Available power minus demand, W. */
  double marginWatts() {
    return power.available() - power.demand();
  }
}
