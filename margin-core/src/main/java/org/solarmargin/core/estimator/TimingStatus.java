package org.solarmargin.core.estimator;

/** Origin of the time model in use. */
public enum TimingStatus {
  /** Stated in the settings. */
  STATED,
  /**
   * Neither stated nor found yet: the throttle is not used, and the estimate is based on voltage
   * and current alone.
   */
  SEARCHING,
  /** Found from the readings. */
  FOUND,
  /**
   * The innovations are correlated with throttle changes: the time model is wrong, or the motors do
   * not follow the throttle column. The throttle is not used.
   */
  LEFT_OUT
}
