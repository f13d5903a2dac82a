package org.solarmargin.core.estimator;

import org.solarmargin.core.state.StateBytes;

/**
 * How far the air over the cells departs from its own mean: a wind that cools in gusts moves it
 * much further and faster than weather does, and the filter must then follow it faster.
 *
 * <p>The estimated air is slower than the true one and shows less than its departures, so they
 * count for more. Over still or steady air the sigma stays what the prior states.
 */
final class CoolingWatch {

  /** Over which the mean follows the air, s: longer than gusts of 5 to 60 s. */
  private static final double MEAN_SECONDS = 60;

  /** Over which squared departures are averaged, s. */
  private static final double SQUARE_SECONDS = 10;

  private static final double FACTOR = 2.5;

  /** Largest sigma, K. */
  private static final double LARGEST_SD = 10;

  private static final double LONGEST_STEP = 1;

  /** So long after take-off the estimated air still comes from what it was on the ground, s. */
  private static final double START_SECONDS = 3;

  private double flownSeconds;
  private double mean;
  private double meanSquare;

  void reset() {
    flownSeconds = 0;
    mean = 0;
    meanSquare = 0;
  }

  /**
   * Follows the estimated air.
   *
   * @param kelvin of the air over the profile's
   * @param sd sigma of the air as the prior states it, K
   * @return sigma to use, K, at least {@code sd}
   */
  double follow(double seconds, double kelvin, double sd) {
    if (flownSeconds < START_SECONDS) {
      flownSeconds += seconds;
      mean = kelvin;
      return sd;
    }
    double step = Math.min(seconds, LONGEST_STEP);
    double departure = kelvin - mean;
    mean += step / MEAN_SECONDS * departure;
    meanSquare += step / SQUARE_SECONDS * (departure * departure - meanSquare);
    return Math.max(sd, Math.min(FACTOR * Math.sqrt(meanSquare), LARGEST_SD));
  }

  void write(StateBytes out) {
    out.put(flownSeconds);
    out.put(mean);
    out.put(meanSquare);
  }

  void read(StateBytes in) {
    flownSeconds = Math.max(in.get(), 0);
    mean = in.get();
    meanSquare = Math.max(in.get(), 0);
  }
}
