package org.solarmargin.cli.replay;

import java.util.ArrayList;
import java.util.List;
import org.solarmargin.cli.flightevent.Episode;
import org.solarmargin.core.alert.AlertLevel;
import org.solarmargin.core.estimator.MarginReading;
import org.solarmargin.core.estimator.Status;

/** Summary of a flight for the pilot, collected sample by sample in constant memory. */
final class FlightSummary {

  private static final int KEPT = 10_000;

  /** The monitor takes a cell temperature that is not between these as not measured. */
  private static final double COLDEST_CELSIUS = -60;

  private static final double WARMEST_CELSIUS = 150;

  private final double[] levelSeconds = new double[AlertLevel.values().length];
  private final List<Loss> losses = new ArrayList<>();
  private final Episode knee = Episode.loss(this::endKnee);

  private double last = Double.NaN;

  /**
   * Probability from which a shadow on a few cells is reported to the pilot: engineering judgement.
   */
  private static final double UNEVEN = 0.5;

  private double smallestMargin = Double.POSITIVE_INFINITY;
  private double smallestMarginLow = Double.POSITIVE_INFINITY;
  private double smallestMarginLowAt = Double.NaN;
  private double smallestMarginAt = Double.NaN;
  private double smallestDemand = Double.NaN;
  private double warningSince = Double.NaN;
  private double kneeWarned = Double.NaN;
  private double kneeCeiling = Double.NaN;
  private long touches;
  private double unevenSince = Double.NaN;
  private double unevenSeconds;
  private double leftOutSeconds;

  /**
   * Adds one accepted sample.
   *
   * @param celsius measured cell temperature; NaN if absent
   */
  void take(double seconds, MarginReading reading, AlertLevel level, double celsius) {
    double step = Double.isNaN(last) ? 0 : seconds - last;
    last = seconds;
    levelSeconds[level.ordinal()] += step;
    if (level != AlertLevel.WARNING) {
      warningSince = Double.NaN;
    } else if (Double.isNaN(warningSince)) {
      warningSince = seconds;
    }
    followMargin(seconds, reading);
    if (reading.unevenLightProbability() > UNEVEN && reading.status() != Status.PAST_KNEE) {
      unevenSince = Double.isNaN(unevenSince) ? seconds : unevenSince;
      unevenSeconds += step;
    }
    boolean impossible = celsius <= COLDEST_CELSIUS || celsius >= WARMEST_CELSIUS;
    leftOutSeconds += reading.thermometerLeftOut() || impossible ? step : 0;
    followKnee(seconds, reading);
  }

  private void followMargin(double seconds, MarginReading reading) {
    if (!reading.status().beforeKnee()) {
      return;
    }
    double margin = Math.max(reading.availableWatts() - reading.steadyDemandWatts(), 0);
    if (margin < smallestMargin) {
      smallestMargin = margin;
      smallestMarginAt = seconds;
      smallestDemand = reading.steadyDemandWatts();
    }
    double low = reading.availableLowWatts() - reading.steadyDemandWatts();
    if (low < smallestMarginLow) {
      smallestMarginLow = low;
      smallestMarginLowAt = seconds;
    }
  }

  private void followKnee(double seconds, MarginReading reading) {
    if (knee.follow(seconds, reading.status() == Status.PAST_KNEE)) {
      kneeWarned = seconds - warningSince;
      kneeCeiling = reading.throttleCeiling();
    }
  }

  private void endKnee(double start, double end, boolean longEnough) {
    if (!longEnough) {
      touches++;
    } else if (losses.size() < KEPT) {
      losses.add(new Loss(start, end, kneeWarned, kneeCeiling));
    }
  }

  /** Ends the flight; call once, after the last sample. */
  void finish() {
    knee.finish();
  }

  double levelSeconds(AlertLevel level) {
    return levelSeconds[level.ordinal()];
  }

  /** Whether there was a moment in flight with a margin. */
  boolean hasMargin() {
    return !Double.isNaN(smallestMarginAt);
  }

  double smallestMarginWatts() {
    return smallestMargin;
  }

  /**
   * The least lower bound of the margin in flight, W, at a time of its own; negative if below the
   * demand.
   */
  double smallestMarginLowWatts() {
    return smallestMarginLow;
  }

  double smallestMarginLowSeconds() {
    return smallestMarginLowAt;
  }

  double smallestMarginSeconds() {
    return smallestMarginAt;
  }

  double smallestMarginDemandWatts() {
    return smallestDemand;
  }

  /** When uneven light was first likely; NaN if never. */
  double unevenSince() {
    return unevenSince;
  }

  /** Total time for which it was likely, s. */
  double unevenSeconds() {
    return unevenSeconds;
  }

  /** How long the thermometer disagreed and was left out, s. */
  double leftOutSeconds() {
    return leftOutSeconds;
  }

  List<Loss> losses() {
    return losses;
  }

  long touches() {
    return touches;
  }
}
