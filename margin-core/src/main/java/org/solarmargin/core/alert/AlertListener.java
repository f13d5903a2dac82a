package org.solarmargin.core.alert;

/**
 * Receives every alert, from within the update that caused it. It must not call back into the
 * monitor.
 */
@FunctionalInterface
public interface AlertListener {

  /**
   * A level was raised or cleared.
   *
   * @param timeNanos time of the sample, ns
   * @param level the level raised, or the level left
   * @param raised true if raised, false if cleared
   * @param reason why it was raised or cleared
   * @param marginLowPercent lower bound of the margin, percent of the decaying peak demand
   * @param secondsToZero time to zero margin, s; infinite unless the margin is falling
   */
  void alert(
      long timeNanos,
      AlertLevel level,
      boolean raised,
      AlertReason reason,
      double marginLowPercent,
      double secondsToZero);
}
