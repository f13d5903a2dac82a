package org.solarmargin.core.estimator;

/** Where the time model in use comes from. */
public enum TimingStatus {
  /** Stated in the settings. */
  STATED,
  /**
   * Not stated and not found yet: the throttle's moves are left out, the estimate rests on volts
   * and amperes alone.
   */
  SEARCHING,
  /** Found from the readings. */
  FOUND,
  /**
   * Innovations follow the throttle's moves: the time model is wrong, or the motors do not follow
   * the throttle column. The throttle's moves are left out.
   */
  LEFT_OUT
}
