package org.solarmargin.core.alert;

/** What may be judged at one instant of a flight. */
public enum FlightPhase {
  /** The rotors do not carry the craft: everything is cleared. */
  GROUNDED,
  /** In the air, but the margin is not yet fit to judge. */
  UNTRUSTED,
  /** In the air with a margin to judge. */
  TRUSTED,
  /** In the air on the wrong side of the knee: it warns at once. */
  PAST_KNEE,
  /**
   * In the air, but samples are refused: what was judged last stands, and a second of it alerts.
   */
  BLIND
}
