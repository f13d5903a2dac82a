package org.solarmargin.core.estimator;

import org.solarmargin.core.state.StateBytes;

/**
 * How far the effective air temperature at the cells departs from its own mean. Gusty wind that
 * cools the cells changes it much further and faster than weather does, and the filter must then
 * follow it faster.
 *
 * <p>The estimated temperature lags the true one and understates its departures, so they are scaled
 * up. In still or steady air the sigma is the one stated by the prior.
 */
final class CoolingWatch {

  /** Time constant of the mean, s: as long as the longest of gusts of 5 to 60 s. */
  private static final double MEAN_SECONDS = 60;

  /** Time constant of the mean squared departure, s. Engineering judgement, not tuned. */
  private static final double SQUARE_SECONDS = 10;

  /** Sigma over the root mean square of the departures. Engineering judgement, not tuned. */
  private static final double FACTOR = 2.5;

  /** Largest sigma, K. Engineering judgement, not tuned. */
  private static final double LARGEST_SD = 10;

  private static final double LONGEST_STEP = 1;

  /** Time after take-off during which the estimate still depends on its value on the ground, s. */
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
   * Follows the estimated air temperature.
   *
   * @param kelvin air temperature above the profile's, K
   * @param sd sigma of the air temperature as stated by the prior, K
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
