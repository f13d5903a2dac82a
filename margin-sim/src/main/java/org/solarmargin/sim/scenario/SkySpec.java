package org.solarmargin.sim.scenario;

import java.nio.file.Path;
import org.solarmargin.sim.sky.DaySky;

/**
 * The sky of a scenario; each kind uses its own part.
 *
 * @param kind which
 * @param suns clear light, or the upper level of ramps
 * @param startSeconds of the first ramp or cloud edge
 * @param ramps of the kind RAMPS
 * @param clouds of the kinds CLOUD and BROKEN
 * @param day of the kind DAY
 * @param file of a recording, beside the scenario
 */
public record SkySpec(
    Kind kind, double suns, double startSeconds, Ramps ramps, Clouds clouds, Day day, Path file) {

  /** Kinds of sky. */
  public enum Kind {
    /** The same light all the time. */
    CONSTANT,
    /** Ramps up and down. */
    RAMPS,
    /** One cloud passes. */
    CLOUD,
    /** Broken clouds, from the seed. */
    BROKEN,
    /** A clear day with the sun's way. */
    DAY,
    /** A recording. */
    RECORDING
  }

  /**
   * Ramps between two levels of light.
   *
   * @param lowSuns lower level
   * @param sunsPerSecond slope
   * @param dwellSeconds stay at each level
   * @param repeats 0 goes to the lower level and stays
   */
  public record Ramps(double lowSuns, double sunsPerSecond, double dwellSeconds, int repeats) {}

  /**
   * Clouds and their shadows.
   *
   * @param depth share of light that they take
   * @param lengthMetres of a single cloud
   * @param edgeMetres of the edges
   * @param speed of the shadows, m/s
   * @param enhancement of the light at the edges
   * @param cover share of time in shadow, broken sky
   */
  public record Clouds(
      double depth,
      double lengthMetres,
      double edgeMetres,
      double speed,
      double enhancement,
      double cover) {}

  /**
   * A clear day.
   *
   * @param start date, time and zone, ISO 8601
   * @param latitude degrees
   * @param longitude degrees
   * @param attitude how the array lies
   */
  public record Day(String start, double latitude, double longitude, DaySky.Attitude attitude) {}
}
