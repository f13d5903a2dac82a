package org.solarmargin.cli.outlook;

import java.time.ZonedDateTime;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * The forecast for one time of a day.
 *
 * @param time local time
 * @param suns light in the array's plane relative to 1000 W/m2
 * @param airCelsius air temperature
 * @param cellCelsius cell temperature
 * @param availableWatts power that the array would deliver
 * @param lowWatts power that it exceeds with 95 % probability, if the sky is as clear as stated
 * @param highWatts power that it does not exceed with 95 % probability in such a sky
 * @param demandWatts hover power
 * @param ceiling throttle ceiling
 */
record Moment(
    ZonedDateTime time,
    double suns,
    double airCelsius,
    double cellCelsius,
    double availableWatts,
    double lowWatts,
    double highWatts,
    double demandWatts,
    double ceiling) {

  /** The moment with the greatest lower bound of the margin; empty in polar night. */
  static Optional<Moment> best(List<Moment> day) {
    return day.stream().max(Comparator.comparingDouble(Moment::lowPercent));
  }

  /** Hour of the local day, 0 to 24. */
  double hour() {
    return time.toLocalTime().toSecondOfDay() / 3600.0;
  }

  double marginPercent() {
    return 100 * (availableWatts / demandWatts - 1);
  }

  double lowPercent() {
    return 100 * (lowWatts / demandWatts - 1);
  }

  /**
   * Additional lift that the craft could hold, percent: thrust is proportional to power to the 2/3.
   */
  double liftPercent() {
    double ratio = availableWatts / demandWatts;
    return 100 * (Math.cbrt(ratio * ratio) - 1);
  }
}
