package org.solarmargin.cli.outlook;

import java.time.ZonedDateTime;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * One time of a day.
 *
 * @param time local
 * @param suns light in the array's plane over 1000 W/m2
 * @param airCelsius air
 * @param cellCelsius cell temperature
 * @param availableWatts what the array would give
 * @param lowWatts what it gives with 95 % probability, if the sky is as clear as stated
 * @param highWatts what it does not exceed with 95 % probability in such a sky
 * @param demandWatts what hover takes
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

  /** How much more the craft could lift, percent: thrust goes with power to the 2/3. */
  double liftPercent() {
    double ratio = availableWatts / demandWatts;
    return 100 * (Math.cbrt(ratio * ratio) - 1);
  }
}
