package org.solarmargin.core.alert;

/** The phase of a flight at one instant, which decides what may be judged. */
public enum FlightPhase {
  /** The rotors do not carry the craft: all alerts are cleared. */
  GROUNDED,
  /** In the air, but the margin is not yet reliable enough to be judged. */
  UNTRUSTED,
  /** In the air, with a margin that may be judged. */
  TRUSTED,
  /** In the air past the knee: all levels are raised at once. */
  PAST_KNEE,
  /**
   * In the air, but samples are refused: the last judgement is kept, and ADVISORY and CAUTION are
   * raised after one second.
   */
  BLIND
}
