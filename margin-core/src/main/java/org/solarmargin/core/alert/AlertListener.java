package org.solarmargin.core.alert;

/**
 * Told of every alert, from within the update that caused it; must not call back into the monitor.
 */
@FunctionalInterface
public interface AlertListener {

  /**
   * A level was raised or cleared.
   *
   * @param timeNanos time of the sample, ns
   * @param level the level raised, or the level left
   * @param raised true if raised, false if cleared
   * @param reason why
   * @param marginLowPercent lower bound of the margin, percent of the remembered peak of demand
   * @param secondsToZero time to zero margin, s; infinite unless falling
   */
  void alert(
      long timeNanos,
      AlertLevel level,
      boolean raised,
      AlertReason reason,
      double marginLowPercent,
      double secondsToZero);
}
