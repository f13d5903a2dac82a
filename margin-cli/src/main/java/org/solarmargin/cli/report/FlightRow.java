package org.solarmargin.cli.report;

import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.MarginReading;

/**
 * What the page shows of one accepted sample.
 *
 * @param read what the log has
 * @param power what was estimated of it
 * @param cells light and heat of the array
 * @param status ordinal
 * @param level ordinal
 * @param truth true available power, W; NaN if not known
 */
record FlightRow(Read read, Power power, Cells cells, int status, int level, double truth) {

  /**
   * What the log has.
   *
   * @param seconds time in the log, s
   * @param volts bus voltage read, V
   * @param amps bus current read, A
   * @param throttle 0 to 1
   */
  record Read(double seconds, double volts, double amps, double throttle) {}

  /**
   * What was estimated.
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
   * Light and heat of the array.
   *
   * @param suns light
   * @param celsius of the cells
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

  /** Available power less the demand, W. */
  double marginWatts() {
    return power.available() - power.demand();
  }
}
