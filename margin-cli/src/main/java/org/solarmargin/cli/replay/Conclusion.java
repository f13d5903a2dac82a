package org.solarmargin.cli.replay;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.solarmargin.cli.format.Clock;
import org.solarmargin.cli.playback.FlightShares;
import org.solarmargin.cli.playback.Share;
import org.solarmargin.cli.playback.Unusable;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.Status;

/**
 * Conclusions from a replayed flight in human-readable sentences; nothing reassuring is said
 * without estimates.
 */
final class Conclusion {

  private static final String KNEE_ADVICE =
      "past the knee, CLOSE the throttle to the ceiling; opening it drops the craft.";

  /**
   * A flight counts as fully estimated if no more than this share, or the warm-up if that is
   * longer, is without an actionable estimate. The limits of this class are engineering judgement.
   */
  private static final double MISSING_SHARE = 0.05;

  private final Replay replay;
  private static final double REPORTED_SECONDS = 2;

  private final FlightSummary summary;
  private final FlightShares shares;

  Conclusion(Replay replay) {
    this.replay = replay;
    this.summary = replay.summary();
    this.shares = replay.shares();
  }

  /** The flight in one sentence. */
  String headline() {
    Optional<Unusable> unusable = replay.unusable();
    if (unusable.isPresent()) {
      // a fault that invalidates the estimates also invalidates the detection of the knee
      boolean showLoss = !unusable.get().invalidatesEstimates() && !lost().isEmpty();
      return unusable.get().headline() + (showLoss ? " " + lost() : "");
    }
    if (shares.flightSeconds() == 0) {
      return shares.flew()
          ? "No flight in this log: too few samples above idle."
          : "No flight in this log: the throttle never left idle.";
    }
    String doubt = replay.findings().isEmpty() ? "" : "The log is doubtful, see Check. ";
    if (!summary.losses().isEmpty()) {
      boolean mostMissing = missingSeconds() > 0.5 * shares.flightSeconds();
      return (mostMissing ? missing() + " " : "") + doubt + lost();
    }
    if (!summary.hasMargin()) {
      return "The flight is too short or the estimate too uncertain for a margin.";
    }
    String caveats = (whole() ? "" : missing() + " ") + doubt;
    return String.format(
        Locale.ROOT,
        "%s %.0f W (%.0f %% of demand) at %s.",
        caveats.isEmpty() ? verdict() : caveats + "The least margin found was",
        summary.smallestMarginWatts(),
        100 * summary.smallestMarginWatts() / summary.smallestMarginDemandWatts(),
        Clock.minutes(since(summary.smallestMarginSeconds())));
  }

  /** The beginning of the sentence about a flight that was estimated throughout. */
  private String verdict() {
    double warned = summary.levelSeconds(AlertLevel.WARNING);
    if (warned > 0) {
      return "A WARNING was active for "
          + Clock.minutes(warned)
          + " of the flight; the least margin was";
    }
    return summary.smallestMarginLowWatts() > 0
        ? "There was spare power throughout; the least margin was"
        : "There may have been moments without spare power; the least margin was";
  }

  /** The first loss in a sentence; empty without one. */
  private String lost() {
    return summary.losses().isEmpty()
        ? ""
        : String.format(
            Locale.ROOT,
            "LOST LIFT: past the knee at %s.",
            Clock.minutes(since(summary.losses().get(0).startSeconds())));
  }

  private double missingSeconds() {
    return shares.flightSeconds() - shares.actionableSeconds();
  }

  /** Whether the whole flight except its warm-up has an actionable estimate. */
  private boolean whole() {
    return missingSeconds()
        <= Math.max(FlightShares.WARM_UP_SECONDS, MISSING_SHARE * shares.flightSeconds());
  }

  private String missing() {
    return Unusable.withoutEstimate(shares);
  }

  /** Shares of the flight by status; they add up to 100 %. */
  String estimate() {
    List<Share> all = shares.shares();
    return all.isEmpty() ? "no flight to estimate" : Share.text(all) + " of the flight";
  }

  /** The smallest margin and its time, or a statement that there is none. */
  String least() {
    if (!summary.hasMargin()) {
      return "No margin can be given.";
    }
    String when = Clock.minutes(since(summary.smallestMarginSeconds()));
    double watts = summary.smallestMarginWatts();
    double low = summary.smallestMarginLowWatts();
    if (Math.round(10 * watts) == 0) {
      return String.format(Locale.ROOT, "none, all available power was drawn at %s", when);
    }
    String most = String.format(Locale.ROOT, "%.1f W at %s; ", watts, when);
    String lowest = Clock.minutes(since(summary.smallestMarginLowSeconds()));
    return most
        + (low > 0
            ? String.format(Locale.ROOT, "lower bound (95 %%) down to %.1f W at %s", low, lowest)
            : "it may have been zero: at "
                + lowest
                + " the lower bound (95 %) of the available power was below the demand");
  }

  /** What to do next, in a sentence or two. */
  String next() {
    Optional<Unusable> unusable = replay.unusable();
    if (unusable.isPresent()) {
      return "Next: "
          + unusable.get().advice()
          + "."
          + (lost().isEmpty() ? "" : " And " + KNEE_ADVICE);
    }
    if (!summary.losses().isEmpty()) {
      return "Next: "
          + KNEE_ADVICE
          + hold()
          + " Fly in steadier light or with less weight, and test on a tether before the next free"
          + " flight.";
    }
    if (summary.levelSeconds(AlertLevel.WARNING) > 0) {
      return "Next: a WARNING means land now. See in the timeline what led to it, and allow more"
          + " margin: steadier light, less weight, less wind.";
    }
    if (summary.levelSeconds(AlertLevel.CAUTION) > 0 && replay.findings().isEmpty()) {
      return "Next: a CAUTION means that the reserve is small. See in the timeline what led to it,"
          + " and keep a landing option closer.";
    }
    if (shares.flightSeconds() == 0) {
      return shares.flew()
          ? "Next: give a log of a whole flight."
          : "Next: check the throttle column and its unit (--column throttle=HEADER:UNIT).";
    }
    if (!replay.findings().isEmpty()) {
      return "Next: " + replay.findings().get(0).advice() + ".";
    }
    if (shares.seconds(Status.COARSE) > 0.5 * shares.flightSeconds()) {
      return "Next: the estimate was coarse for most of the flight. Calibrate the current sensor"
          + " and state the remaining error in the profile; a cell_c column helps a little.";
    }
    if (!thermometer().isEmpty()) {
      return "Next: repair or move the thermometer, or leave cell_c out of the log; the estimate"
          + " works without it.";
    }
    if (!whole()) {
      return "Next: find out why part of the flight has no estimate; the status column of"
          + " --estimates shows when.";
    }
    return "Next: nothing to correct. Keep this log for tuning the thresholds (margin tune).";
  }

  /**
   * Advice with the throttle that would have held the array at its knee when the first loss began.
   */
  private String hold() {
    double ceiling = summary.losses().get(0).throttleCeiling();
    return ceiling > 0
        ? String.format(
            Locale.ROOT,
            " Hold the throttle at or below %.2f here, and at throttle_ceiling (--estimates)"
                + " throughout.",
            Math.floor(100 * ceiling) / 100)
        : " Hold the throttle at or below throttle_ceiling (--estimates).";
  }

  /** Time since the first line of the log, s. */
  double since(double seconds) {
    return seconds - shares.firstSeconds();
  }

  /** Message about the thermometer; empty if it was used throughout. */
  String thermometer() {
    if (!(summary.leftOutSeconds() >= REPORTED_SECONDS)) {
      return "";
    }
    return String.format(
        Locale.ROOT,
        "cell_c disagrees with voltage and current by more than the error of a sensor on the back"
            + " of a cell, and was left out for %.0f s. Check the sensor's position, unit and"
            + " scale",
        summary.leftOutSeconds());
  }

  /** Message about uneven light; empty if it was never likely for long. */
  String light() {
    if (!(summary.unevenSeconds() >= REPORTED_SECONDS)) {
      return "";
    }
    return String.format(
        Locale.ROOT,
        "a shadow or dirt on a few cells is suspected for %.0f s from %s; such cells limit the"
            + " whole string. Look for a leaf, an antenna or a leg above them, and for a cracked"
            + " cell; thickening haze looks similar",
        summary.unevenSeconds(),
        Clock.minutes(since(summary.unevenSince())));
  }
}
