package org.solarmargin.cli.tune.rule;

/**
 * Results of a rule on a set of flights.
 *
 * @param events number of events that an alert should have preceded
 * @param missed number of events without an active alert
 * @param inverted number of events on which the level was raised later than the next higher one,
 *     although another rule would have been earlier
 * @param late number of events with less than the required lead time, including missed ones
 * @param medianLead median lead time of all events, with missed ones as 0, s; NaN without events
 * @param nuisances number of raised alerts that were nuisances
 * @param raises number of raised alerts
 * @param hours time in the air, h
 */
public record Score(
    int events,
    int missed,
    int inverted,
    int late,
    double medianLead,
    int nuisances,
    int raises,
    double hours) {

  /** Median lead time for display, s; 0 without events. */
  public double leadSeconds() {
    return Double.isNaN(medianLead) ? 0 : medianLead;
  }

  public double nuisancesPerHour() {
    return hours > 0 ? nuisances / hours : 0;
  }
}
