package org.solarmargin.core.gate;

/**
 * What can be true of a craft's samples.
 *
 * <p>The constructor throws {@link IllegalArgumentException} with rule and value where one is out
 * of range or NaN.
 *
 * @param highestVolts V; the array's open-circuit voltage in the brightest light and deepest cold
 * @param highestAmps A; the array's short-circuit current in the brightest light
 * @param slackVolts V; noise that may carry a true zero below zero
 * @param slackAmps A; noise and offset that may carry a true zero below zero
 */
public record GateLimits(
    double highestVolts, double highestAmps, double slackVolts, double slackAmps) {

  /** Brightest light allowed for: about the highest ever published (Cordero et al. 2023), suns. */
  public static final double BRIGHTEST_SUNS = 2.2;

  /** Coldest cells allowed for, degrees Celsius. */
  public static final double COLDEST_CELSIUS = -25;

  /** Warmest cells allowed for, where the photocurrent is highest, degrees Celsius. */
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
