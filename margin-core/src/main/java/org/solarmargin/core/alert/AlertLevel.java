package org.solarmargin.core.alert;

/** How urgent an alert is, least first. */
public enum AlertLevel {
  /** Nothing stands. */
  NONE,
  /** Know; you may have to act later. */
  ADVISORY,
  /** Know now, act soon. */
  CAUTION,
  /** Know now and act now. */
  WARNING
}
