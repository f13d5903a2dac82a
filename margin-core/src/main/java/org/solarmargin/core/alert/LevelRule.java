package org.solarmargin.core.alert;

/**
 * When one level is raised and cleared.
 *
 * <p>The constructor throws {@link IllegalArgumentException} with rule and value where one is out
 * of range or NaN.
 *
 * @param marginPercent raise below this margin, lower bound in percent of the remembered peak of
 *     demand; -100 to 500
 * @param timeSeconds raise below this time to zero margin, s; 0 switches the rule off; 0 to 600
 * @param onDelaySeconds the condition must stand this long, s; 0 to 60
 * @param offDelaySeconds the condition must be gone this long, s; 0 to 600
 * @param hysteresisPercent clear only above {@code marginPercent} plus this; 0 to 100
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
