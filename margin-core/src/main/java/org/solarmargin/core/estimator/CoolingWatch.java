package org.solarmargin.core.estimator;

import org.solarmargin.core.state.StateBytes;

/**
 * How far the effective air temperature at the cells departs from its own mean. Gusty wind that
 * cools the cells changes it much further and faster than weather does; the filter must then follow
 * it and the cells faster, and the estimate is biased low. In still or steady air this has no
 * effect after the first seconds. Factor, bias and first departure were chosen on simulated flights
 * in cooling wind and in still air (table in {@code DEVELOPERS.md}); the times are engineering
 * judgement.
 */
final class CoolingWatch {

  /** Time constant of the mean, s: as long as the longest of gusts of 5 to 60 s. */
  private static final double MEAN_SECONDS = 60;

  /** Time constant of the mean squared departure, s. */
  private static final double SQUARE_SECONDS = 10;

  /**
   * Root mean square of the departures assumed at first, K: the air may move as long as it has not
   * been observed.
   */
  private static final double FIRST_DEPARTURE = 1.8;

  /**
   * Sigma over the root mean square of the departures: the estimated temperature lags the true one
   * and understates its departures.
   */
  private static final double FACTOR = 2.2;

  /** Largest sigma, K. */
  private static final double LARGEST_SD = 10;

  /** Excess of the sigma from which the estimate is biased low, K. */
  private static final double BIASED_FROM_KELVIN = 2;

  /**
   * Sigmas of the available power by which the estimate is biased low per kelvin of excess: a part
   * of what the wind changes is attributed to the light, and overestimation is the costlier error.
   */
  private static final double BIAS_SIGMAS_PER_KELVIN = 0.1;

  private static final double LONGEST_STEP = 1;

  /** Time after take-off during which the estimate still depends on its value on the ground, s. */
  private static final double START_SECONDS = 3;

  private double flownSeconds;
  private double mean;
  private double meanSquare;

  CoolingWatch() {
    reset();
  }

  void reset() {
    flownSeconds = 0;
    mean = 0;
    meanSquare = FIRST_DEPARTURE * FIRST_DEPARTURE;
  }

  /**
   * Follows the estimated air temperature in flight.
   *
   * @param kelvin air temperature above the profile's, K
   */
  void follow(double seconds, double kelvin) {
    if (flownSeconds < START_SECONDS) {
      flownSeconds += seconds;
      mean = kelvin;
      return;
    }
    double step = Math.min(seconds, LONGEST_STEP);
    double departure = kelvin - mean;
    mean += step / MEAN_SECONDS * departure;
    meanSquare += step / SQUARE_SECONDS * (departure * departure - meanSquare);
  }

  /**
   * Sigma of the air temperature beyond that of weather, K: 0 in still or steady air, at most
   * {@value #LARGEST_SD} minus that of weather.
   */
  double excessKelvin() {
    double sd = Math.min(FACTOR * Math.sqrt(meanSquare), LARGEST_SD);
    return Math.max(sd - Prior.airSd(true), 0);
  }

  /** Number of sigmas by which the estimate of the available power is biased low, 0 or more. */
  double biasSigmas() {
    return BIAS_SIGMAS_PER_KELVIN * Math.max(excessKelvin() - BIASED_FROM_KELVIN, 0);
  }

  void write(StateBytes out) {
    out.put(flownSeconds);
    out.put(mean);
    out.put(meanSquare);
  }

  void read(StateBytes in) {
    flownSeconds = in.getNonNegative();
    mean = in.get();
    meanSquare = in.getNonNegative();
  }
}
