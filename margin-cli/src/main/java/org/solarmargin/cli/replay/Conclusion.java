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

/** What a replayed flight comes to, in sentences for people; no comfort without estimates. */
final class Conclusion {

  private static final String KNEE_ADVICE =
      "past the knee CLOSE the throttle to the ceiling; opening it drops the craft.";

  /** A flight is told as a whole if no more than this is without an estimate to act on. */
  private static final double WARM_UP_SECONDS = 5;

  private static final double UNTOLD_SHARE = 0.05;

  private final Replay replay;
  private static final double TOLD_SECONDS = 2;

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
      // under a fault that voids the estimates, the knee is no more than a guess
      boolean told = !unusable.get().voidsEstimates() && !lost().isEmpty();
      return unusable.get().headline() + (told ? " " + lost() : "");
    }
    if (shares.flightSeconds() == 0) {
      return shares.flew()
          ? "No flight in this log: too few samples above idle to tell any."
          : "No flight in this log: the throttle never left idle.";
    }
    if (!summary.losses().isEmpty()) {
      boolean mostUntold = untoldSeconds() > 0.5 * shares.flightSeconds();
      return (mostUntold ? untold() + " " : "") + lost();
    }
    if (!summary.hasMargin()) {
      return "Flight too short or too uncertain for a margin.";
    }
    String caveats =
        (whole() ? "" : untold() + " ")
            + (replay.findings().isEmpty() ? "" : "Doubtful log, see Check. ");
    return String.format(
        Locale.ROOT,
        "%s %.0f W (%.0f %% of demand) at %s.",
        caveats.isEmpty()
            ? "Power to spare all the way; the least was"
            : caveats + "The least margin found was",
        summary.smallestMarginWatts(),
        100 * summary.smallestMarginWatts() / summary.smallestMarginDemandWatts(),
        Clock.minutes(since(summary.smallestMarginSeconds())));
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

  private double untoldSeconds() {
    return shares.flightSeconds() - shares.toldSeconds();
  }

  /** Whether the whole flight but its warm-up has an estimate to act on. */
  private boolean whole() {
    return untoldSeconds() <= Math.max(WARM_UP_SECONDS, UNTOLD_SHARE * shares.flightSeconds());
  }

  private String untold() {
    return Unusable.untold(shares);
  }

  /** Shares of the flight by what is known of it; they add up to 100 %. */
  String estimate() {
    List<Share> all = shares.shares();
    return all.isEmpty() ? "no flight to estimate" : Share.words(all) + " of the flight";
  }

  /** The smallest margin and when; a word if there was none. */
  String least() {
    if (!summary.hasMargin()) {
      return "No margin can be told.";
    }
    String when = Clock.minutes(since(summary.smallestMarginSeconds()));
    double watts = summary.smallestMarginWatts();
    double low = summary.smallestMarginLowWatts();
    if (Math.round(10 * watts) == 0) {
      return String.format(Locale.ROOT, "none, all available power was drawn at %s", when);
    }
    String most = String.format(Locale.ROOT, "%.1f W at %s; ", watts, when);
    return most
        + (low > 0
            ? String.format(Locale.ROOT, "at least %.1f W of it with 95 %% probability", low)
            : "it may be none (the lower bound of the available power is under the demand)");
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
          + " Fly in steadier light or lighter, and test tethered before the next free flight.";
    }
    if (summary.levelSeconds(AlertLevel.WARNING) > 0) {
      return "Next: a WARNING means land now. Look at what led to it in the timeline, and leave more"
          + " margin: steadier light, less weight, lower wind.";
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
      return "Next: the estimate was coarse most of the flight. Calibrate the current sensor and state"
          + " what is left in the profile; a cell_c column helps most.";
    }
    if (!thermometer().isEmpty()) {
      return "Next: repair or move the thermometer, or leave cell_c out of the log; the estimate goes without.";
    }
    if (!whole()) {
      return "Next: find out why part of the flight has no estimate: the status column of --estimates"
          + " says when.";
    }
    return "Next: nothing to correct. Keep this log: thresholds are tuned on flights (margin tune).";
  }

  /** The throttle that would have held the array at its knee when the first loss began. */
  private String hold() {
    double ceiling = summary.losses().get(0).throttleCeiling();
    return ceiling > 0
        ? String.format(
            Locale.ROOT,
            " Hold the throttle at or below %.2f here, and at throttle_ceiling (--estimates) all"
                + " along.",
            Math.floor(100 * ceiling) / 100)
        : " Hold the throttle at or below throttle_ceiling (--estimates).";
  }

  /** Time since the first line of the log, s. */
  double since(double seconds) {
    return seconds - shares.firstSeconds();
  }

  /** What is to be said of the thermometer; empty if it was believed. */
  String thermometer() {
    if (!(summary.leftOutSeconds() >= TOLD_SECONDS)) {
      return "";
    }
    return String.format(
        Locale.ROOT,
        "cell_c disagrees with voltage and current by more than a sensor on the back of a cell errs,"
            + " and was left out for %.0f s. Check where the sensor sits, its unit and its scale",
        summary.leftOutSeconds());
  }

  /** What is to be said of uneven light; empty if it was never likely for long. */
  String light() {
    if (!(summary.unevenSeconds() >= TOLD_SECONDS)) {
      return "";
    }
    return String.format(
        Locale.ROOT,
        "a shadow or dirt on a few cells is suspected for %.0f s from %s on; such cells limit the whole"
            + " string. Look for a leaf, an antenna or a leg over them, and for a cracked cell; haze"
            + " that thickens looks much the same",
        summary.unevenSeconds(),
        Clock.minutes(since(summary.unevenSince())));
  }
}
