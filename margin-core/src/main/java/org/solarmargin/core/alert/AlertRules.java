package org.solarmargin.core.alert;

/**
 * The thresholds of all levels.
 *
 * <p>The constructor throws {@link IllegalArgumentException}, with the rule and the value, if a
 * value is out of range or NaN.
 *
 * @param advisory rule of the lowest level
 * @param caution rule of the middle level
 * @param warning rule of the highest level
 * @param peakMemorySeconds time constant of the first-order decay of the peak demand, s; 0.1 to 600
 */
public record AlertRules(
    LevelRule advisory, LevelRule caution, LevelRule warning, double peakMemorySeconds) {

  /**
   * Defaults for a craft whose rules have not been tuned. WARNING: a gust like the recent ones
   * would use up the margin, or five seconds are left, the time that a trained crew is given for a
   * first response (TCAS II: 5 s). CAUTION: twice that time, or a margin that a moderate gust would
   * use up. ADVISORY: enough time to plan a landing. The on-delays of WARNING and CAUTION are
   * shorter than the fastest cloud edge (about 1 s) and span several samples, so that sensor noise
   * alone does not raise them. The off-delay of WARNING outlasts the lull between two gusts; a
   * CAUTION is withdrawn as soon as its condition ends.
   */
  public static final AlertRules DEFAULT =
      new AlertRules(
          new LevelRule(28, 0, 2.0, 3.0, 5),
          new LevelRule(16, 10, 0.8, 0, 4),
          new LevelRule(7.5, 5, 0.2, 10.0, 6),
          10);

  public AlertRules {
    if (caution.marginPercent() > advisory.marginPercent()
        || warning.marginPercent() > caution.marginPercent()) {
      throw new IllegalArgumentException(
          "margins must fall from ADVISORY to CAUTION to WARNING: "
              + advisory.marginPercent()
              + ", "
              + caution.marginPercent()
              + ", "
              + warning.marginPercent());
    }
    if (!(peakMemorySeconds >= 0.1 && peakMemorySeconds <= 600)) {
      throw new IllegalArgumentException(
          "peakMemorySeconds must be in [0.1, 600]: " + peakMemorySeconds);
    }
  }

  /**
   * The rule of a level as text; all printouts use this method.
   *
   * @param level ADVISORY, CAUTION or WARNING
   * @return one sentence, English
   * @throws IllegalArgumentException for NONE
   */
  public String words(AlertLevel level) {
    LevelRule rule = of(level);
    StringBuilder text = new StringBuilder(300);
    text.append(level).append(" when the lower bound of the margin stays below ");
    text.append(plain(rule.marginPercent())).append(" % of the ");
    text.append(plain(peakMemorySeconds)).append(" s peak demand");
    if (rule.timeSeconds() > 0) {
      text.append(" or would reach zero within ").append(plain(rule.timeSeconds())).append(" s,");
    }
    text.append(" for ").append(plain(rule.onDelaySeconds())).append(" s; at once when the");
    text.append(" available power is below the demand or the craft is past the knee");
    if (level != AlertLevel.WARNING) {
      text.append(", or samples have been refused for ");
      text.append(plain(AlertMonitor.BLIND_SECONDS)).append(" s");
    }
    text.append(". Withdrawn when the margin is above ");
    text.append(plain(rule.marginPercent() + rule.hysteresisPercent())).append(" %");
    if (rule.timeSeconds() > 0) {
      text.append(" and would not reach zero within ");
      text.append(plain(rule.timeSeconds() * AlertMonitor.TIME_RELEASE)).append(" s");
    }
    if (rule.offDelaySeconds() > 0) {
      text.append(" and has been so for ").append(plain(rule.offDelaySeconds())).append(" s");
    }
    if (level == AlertLevel.WARNING) {
      text.append(", but not while it has been raised ").append(AlertMonitor.RAISES_A_MINUTE);
      text.append(" times within a minute");
    }
    return text.append('.').toString();
  }

  /** At most three decimals, without trailing zeros. */
  private static String plain(double value) {
    double rounded = Math.rint(value * 1000) / 1000;
    return rounded == Math.rint(rounded) ? Long.toString((long) rounded) : Double.toString(rounded);
  }

  /**
   * The rule of a level.
   *
   * @param level ADVISORY, CAUTION or WARNING
   * @return the rule of that level
   * @throws IllegalArgumentException for NONE
   */
  public LevelRule of(AlertLevel level) {
    return switch (level) {
      case ADVISORY -> advisory;
      case CAUTION -> caution;
      case WARNING -> warning;
      case NONE -> throw new IllegalArgumentException("NONE has no rule");
    };
  }
}
