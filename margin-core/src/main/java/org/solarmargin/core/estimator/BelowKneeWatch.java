package org.solarmargin.core.estimator;

/**
 * Detects flight past the knee by the model: the bus voltage is lower than that of the peak by more
 * than {@value #SHARE} (relative) for {@value #LAST_SECONDS} s. The constants are engineering
 * judgement, not tuned.
 */
final class BelowKneeWatch {

  private static final double SHARE = 0.03;
  private static final double LAST_SECONDS = 0.1;

  private double lasted;

  void reset() {
    lasted = 0;
  }

  /** Takes a step, s, at whose end the bus and the peak have these voltages, V. */
  void follow(double step, boolean airborne, double busVolts, double peakVolts) {
    boolean below = airborne && busVolts < (1 - SHARE) * peakVolts;
    lasted = below ? lasted + step : 0;
  }

  boolean detected() {
    return lasted >= LAST_SECONDS;
  }
}
