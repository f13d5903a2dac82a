package org.solarmargin.core.gate;

/**
 * The plausibility limits of a craft's samples.
 *
 * <p>The constructor throws {@link IllegalArgumentException}, with the rule and the value, if a
 * value is out of range or NaN.
 *
 * @param highestVolts V; the array's open-circuit voltage in the brightest light at the lowest
 *     temperature
 * @param highestAmps A; the array's short-circuit current in the brightest light
 * @param slackVolts V; how far noise may take a reading of zero below zero
 * @param slackAmps A; how far noise and offset may take a reading of zero below zero
 */
public record GateLimits(
    double highestVolts, double highestAmps, double slackVolts, double slackAmps) {

  /** Brightest light allowed for, suns: about the highest published (Cordero et al. 2023). */
  public static final double BRIGHTEST_SUNS = 2.2;

  /** Coldest cells allowed for, degrees Celsius. Engineering judgement, not tuned. */
  public static final double COLDEST_CELSIUS = -25;

  /**
   * Warmest cells allowed for, at which the photocurrent is highest, degrees Celsius. Engineering
   * judgement, not tuned.
   */
  public static final double WARMEST_CELSIUS = 100;

  public GateLimits {
    check("highestVolts", highestVolts);
    check("highestAmps", highestAmps);
    check("slackVolts", slackVolts);
    check("slackAmps", slackAmps);
  }

  private static void check(String name, double value) {
    if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
      throw new IllegalArgumentException(name + " must be > 0 and finite: " + value);
    }
  }
}
