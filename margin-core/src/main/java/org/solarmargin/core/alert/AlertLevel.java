package org.solarmargin.core.alert;

/** The urgency of an alert, least urgent first. */
public enum AlertLevel {
  /** No alert is active. */
  NONE,
  /** The flyer must be aware, and may have to act later. */
  ADVISORY,
  /** The flyer must be aware at once and act soon. */
  CAUTION,
  /** The flyer must be aware at once and act at once. */
  WARNING
}
