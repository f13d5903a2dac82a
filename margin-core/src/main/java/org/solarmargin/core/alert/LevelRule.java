package org.solarmargin.core.alert;

/**
 * The thresholds and delays by which one level is raised and cleared.
 *
 * <p>The constructor throws {@link IllegalArgumentException}, with the rule and the value, if a
 * value is out of range or NaN.
 *
 * @param marginPercent the level is raised when the lower bound of the margin is below this,
 *     percent of the decaying peak demand; -100 to 500
 * @param timeSeconds the level is raised when the time to zero margin is below this, s; 0 switches
 *     this condition off; 0 to 600
 * @param onDelaySeconds how long the condition must hold before the level is raised, s; 0 to 60
 * @param offDelaySeconds how long the condition must have ended before the level is cleared, s; 0
 *     to 600
 * @param hysteresisPercent the level is cleared only above {@code marginPercent} plus this; 0 to
 *     100
 */
public record LevelRule(
    double marginPercent,
    double timeSeconds,
    double onDelaySeconds,
    double offDelaySeconds,
    double hysteresisPercent) {

  public LevelRule {
    check("marginPercent", marginPercent, -100, 500);
    check("timeSeconds", timeSeconds, 0, 600);
    check("onDelaySeconds", onDelaySeconds, 0, 60);
    check("offDelaySeconds", offDelaySeconds, 0, 600);
    check("hysteresisPercent", hysteresisPercent, 0, 100);
  }

  private static void check(String name, double value, double low, double high) {
    if (!(value >= low && value <= high)) {
      throw new IllegalArgumentException(
          name + " must be in [" + low + ", " + high + "]: " + value);
    }
  }
}
