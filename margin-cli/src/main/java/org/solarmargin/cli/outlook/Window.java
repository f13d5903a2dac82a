package org.solarmargin.cli.outlook;

import java.time.Duration;
import java.time.ZonedDateTime;
import java.util.List;
import java.util.Optional;

/**
 * A period of a day.
 *
 * @param from its first moment
 * @param to its last moment
 */
record Window(ZonedDateTime from, ZonedDateTime to) {

  Duration length() {
    return Duration.between(from, to);
  }

  /** The longest period in which the lower bound of the margin stays at or above a percentage. */
  static Optional<Window> longest(List<Moment> moments, double leastPercent, Duration step) {
    Window best = null;
    Moment first = null;
    Moment last = null;
    for (Moment moment : moments) {
      boolean joined =
          last != null && Duration.between(last.time(), moment.time()).compareTo(step) <= 0;
      if (moment.lowPercent() >= leastPercent) {
        first = first == null || !joined ? moment : first;
        Window window = new Window(first.time(), moment.time());
        boolean longer = best == null || window.length().compareTo(best.length()) > 0;
        best = longer ? window : best;
        last = moment;
      } else {
        first = null;
        last = null;
      }
    }
    return Optional.ofNullable(best);
  }
}
