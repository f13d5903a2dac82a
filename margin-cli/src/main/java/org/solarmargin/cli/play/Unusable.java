package org.solarmargin.cli.play;

import java.util.List;
import java.util.Optional;
import org.solarmargin.cli.logcheck.Finding;
import org.solarmargin.core.gate.SampleGate;

/**
 * Why a log's estimates cannot be relied on. Exit 3.
 *
 * @param headline a sentence for people
 * @param voidsEstimates whether what estimates there are mean nothing
 * @param rule what is wrong, with its value, for one line
 * @param advice what to do, an imperative, no full stop
 */
public record Unusable(String headline, boolean voidsEstimates, String rule, String advice) {

  private static final double LEAST_SHARE = 0.5;
  private static final String CHECK_COLUMNS = "check the columns and their units (--column)";

  static Optional<Unusable> of(SampleGate gate, FlightShares shares, List<Finding> findings) {
    Optional<Finding> fault = findings.stream().filter(Finding::voidsEstimates).findFirst();
    if (fault.isPresent()) {
      String line = fault.get().line();
      return Optional.of(
          new Unusable("No usable estimate: " + line + ".", true, line, fault.get().advice()));
    }
    if (!shares.anyReading()) {
      String all = "all " + gate.samples() + " samples refused: " + Verdicts.refusals(gate);
      return Optional.of(
          new Unusable(
              "No sample of this log could be used: " + Verdicts.refusals(gate) + ".",
              false,
              all,
              CHECK_COLUMNS));
    }
    if (shares.flightSeconds() > 0 && shares.estimatedShare() < LEAST_SHARE) {
      List<Share> parts = shares.unusable();
      int percent = parts.stream().mapToInt(Share::percent).sum();
      String why = Share.words(parts);
      return Optional.of(
          new Unusable(
              "No usable estimate for " + percent + " % of the flight: " + why + ".",
              false,
              "less than half of the flight got an estimate: none for " + percent + " %: " + why,
              findings.isEmpty() ? CHECK_COLUMNS : findings.get(0).advice()));
    }
    return Optional.empty();
  }

  /**
   * The whole in one line, for diagnostics.
   *
   * @param name of the log
   * @return log, rule, value, what to do
   */
  public String line(String name) {
    return name + ": " + rule + ": " + advice;
  }
}
