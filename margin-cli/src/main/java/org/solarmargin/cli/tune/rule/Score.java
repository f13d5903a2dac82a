package org.solarmargin.cli.tune.rule;

/**
 * What a rule did on a set of flights.
 *
 * @param events that should have been preceded by an alert
 * @param missed of these, with no standing alert
 * @param inverted of these, the level stood later than the one above it in rank, although another
 *     rule would have stood earlier
 * @param late of these, alerted less than the lead asked for, missed ones included
 * @param medianLead of all events, missed ones as 0, s; NaN without events
 * @param nuisances raises that nothing followed
 * @param raises all
 * @param hours in the air
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

  /** Median lead for people: 0 without events, s. */
  public double leadSeconds() {
    return Double.isNaN(medianLead) ? 0 : medianLead;
  }

  public double nuisancesPerHour() {
    return hours > 0 ? nuisances / hours : 0;
  }
}
