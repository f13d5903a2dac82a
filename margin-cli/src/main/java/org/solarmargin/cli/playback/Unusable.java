package org.solarmargin.cli.playback;

import java.util.List;
import java.util.Optional;
import org.solarmargin.cli.logcheck.Finding;
import org.solarmargin.core.verdict.GateCounts;
import org.solarmargin.core.verdict.Verdict;

/**
 * Why a log's estimates cannot be relied on. Exit status 3.
 *
 * @param headline a human-readable sentence
 * @param invalidatesEstimates whether all estimates are invalid
 * @param rule the fault with its value, for one line
 * @param advice what to do, in the imperative, without full stop
 */
public record Unusable(String headline, boolean invalidatesEstimates, String rule, String advice) {

  /** Least share of a flight that must have an estimate: engineering judgement. */
  private static final double LEAST_SHARE = 0.5;

  private static final String CHECK_COLUMNS = "check the columns and their units (--column)";

  /**
   * Judges a log.
   *
   * @param units what to do about the unit of a column, if one is suspect
   */
  static Optional<Unusable> of(
      GateCounts gate, FlightShares shares, List<Finding> findings, Optional<String> units) {
    Optional<Finding> fault = findings.stream().filter(Finding::invalidatesEstimates).findFirst();
    if (fault.isPresent()) {
      String line = fault.get().line();
      return Optional.of(
          new Unusable(
              "No usable estimate: " + line + ".",
              true,
              line,
              units.map(words -> words + "; otherwise ").orElse("") + fault.get().advice()));
    }
    long refused = Verdicts.refused(gate);
    boolean noFlightToJudge = shares.flightSeconds() == 0 && 2 * refused > gate.samples();
    if (!shares.anyReading() || noFlightToJudge) {
      String why = Verdicts.refusals(gate);
      return Optional.of(
          new Unusable(
              (gate.count(Verdict.ACCEPTED) == 0 ? "No" : "Hardly any")
                  + (" sample of this log could be used: " + why + "."),
              false,
              refused + " of " + gate.samples() + " samples refused: " + why,
              units.orElse(CHECK_COLUMNS)));
    }
    double flight = shares.flightSeconds();
    boolean few =
        shares.actionableSeconds() < LEAST_SHARE * (flight - FlightShares.WARM_UP_SECONDS);
    if (flight > 0 && (few || shares.actionableSeconds() == 0)) {
      List<Share> parts = shares.withoutEstimate();
      StringBuilder advice = new StringBuilder(units.orElse(CHECK_COLUMNS));
      if (units.isEmpty()) {
        // in a wrong unit, the findings only follow from it
        findings.forEach(finding -> advice.append("; ").append(finding.advice()));
      }
      return Optional.of(
          new Unusable(
              withoutEstimate(shares),
              false,
              "too little of the flight has an estimate: none for "
                  + percent(parts)
                  + " %: "
                  + Share.text(parts),
              advice.toString()));
    }
    return Optional.empty();
  }

  /**
   * Which part of a flight has no actionable estimate, and why.
   *
   * @param shares shares of the flight
   * @return a sentence
   */
  public static String withoutEstimate(FlightShares shares) {
    List<Share> parts = shares.withoutEstimate();
    return "No usable estimate for "
        + percent(parts)
        + " % of the flight: "
        + Share.text(parts)
        + ".";
  }

  private static int percent(List<Share> parts) {
    return parts.stream().mapToInt(Share::percent).sum();
  }

  /**
   * The fault in one line, for diagnostics.
   *
   * @param name name of the log
   * @return log, rule, value, what to do
   */
  public String line(String name) {
    return name + ": " + rule + ": " + advice;
  }
}
