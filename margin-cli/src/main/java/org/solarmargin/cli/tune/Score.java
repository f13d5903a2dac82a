package org.solarmargin.cli.tune;

/**
 * What a rule did on a set of flights.
 *
 * @param events that should have been preceded by an alert
 * @param missed of these, with no standing alert
 * @param late of these, alerted less than the lead asked for, missed ones included
 * @param medianLead of all events, missed ones as 0, s; NaN without events
 * @param nuisances raises that nothing followed
 * @param raises all
 * @param hours in the air
 */
record Score(
    int events, int missed, int late, double medianLead, int nuisances, int raises, double hours) {

  double nuisancesPerHour() {
    return hours > 0 ? nuisances / hours : 0;
  }

  /** No worse in anything that counts, and better in something. */
  boolean dominates(Score other) {
    boolean noWorse =
        missed <= other.missed && nuisances <= other.nuisances && !(medianLead < other.medianLead);
    boolean better =
        missed < other.missed || nuisances < other.nuisances || medianLead > other.medianLead;
    return noWorse && better;
  }
}
