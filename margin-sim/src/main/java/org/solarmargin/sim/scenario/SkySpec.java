package org.solarmargin.sim.scenario;

import java.nio.file.Path;
import org.solarmargin.sim.sky.DaySky;

/**
 * The sky of a scenario; each kind uses its own parameters.
 *
 * @param kind kind of sky
 * @param suns clear light, or the upper level of ramps, suns
 * @param startSeconds start of the first ramp or cloud edge, s
 * @param ramps parameters of the kind RAMPS
 * @param clouds parameters of the kinds CLOUD and BROKEN
 * @param day parameters of the kind DAY
 * @param file file of a recording, relative to the scenario
 */
public record SkySpec(
    Kind kind, double suns, double startSeconds, Ramps ramps, Clouds clouds, Day day, Path file) {

  /** Kinds of sky. */
  public enum Kind {
    /** Constant light. */
    CONSTANT,
    /** Ramps up and down. */
    RAMPS,
    /** One cloud passes. */
    CLOUD,
    /** Broken clouds, laid out from the seed. */
    BROKEN,
    /** A clear day with the path of the sun. */
    DAY,
    /** A recording. */
    RECORDING
  }

  /**
   * Ramps between two levels of light.
   *
   * @param lowSuns lower level, suns
   * @param sunsPerSecond slope, suns/s
   * @param dwellSeconds time at each level, s
   * @param repeats number of cycles; 0 goes to the lower level and stays there
   */
  public record Ramps(double lowSuns, double sunsPerSecond, double dwellSeconds, int repeats) {}

  /**
   * Clouds and their shadows.
   *
   * @param depth share of the light that they block
   * @param lengthMetres length of a single cloud, m
   * @param edgeMetres length of the edges, m
   * @param speed speed of the shadows, m/s
   * @param enhancement share of light added at the edges
   * @param cover share of time in shadow, for a broken sky
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
   * @param latitude degrees, north positive
   * @param longitude degrees, east positive
   * @param attitude orientation of the array
   */
  public record Day(String start, double latitude, double longitude, DaySky.Attitude attitude) {}
}
