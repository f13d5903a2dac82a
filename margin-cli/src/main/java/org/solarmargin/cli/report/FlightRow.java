package org.solarmargin.cli.report;

import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.MarginReading;

/**
 * What the page shows of one accepted sample.
 *
 * @param seconds time in the log, s
 * @param volts bus voltage read, V
 * @param amps bus current read, A
 * @param throttle 0 to 1
 * @param available W
 * @param low lower bound of it, W
 * @param demand W
 * @param mppVolts V
 * @param ceiling 0 to 1
 * @param lift percent
 * @param suns light
 * @param cellCelsius degrees Celsius
 * @param status ordinal
 * @param level ordinal
 * @param truth true available power, W; NaN if not known
 */
record FlightRow(
    double seconds,
    double volts,
    double amps,
    double throttle,
    double available,
    double low,
    double demand,
    double mppVolts,
    double ceiling,
    double lift,
    double suns,
    double cellCelsius,
    int status,
    int level,
    double truth) {

  static FlightRow of(
      double seconds,
      double volts,
      double amps,
      double throttle,
      MarginReading reading,
      AlertLevel level,
      double truth) {
    return new FlightRow(
        seconds,
        volts,
        amps,
        throttle,
        reading.availableWatts(),
        reading.availableLowWatts(),
        reading.demandWatts(),
        reading.peakVolts(),
        reading.throttleCeiling(),
        reading.liftReservePercent(),
        reading.suns(),
        reading.cellCelsius(),
        reading.status().ordinal(),
        level.ordinal(),
        truth);
  }
}
