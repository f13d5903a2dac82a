package org.solarmargin.core.estimator;

/** How far a reading may be trusted. */
public enum Status {
  /**
   * No sample has been accepted yet, or the samples cannot come from this array; there are no
   * figures.
   */
  NO_ESTIMATE,
  /**
   * The rotors do not carry the craft: the light follows from the voltage alone, the interval is
   * wide, and there are no alerts.
   */
  IDLE,
  /**
   * In flight for less than the warm-up time, or the interval is still wide: do not act on the
   * margin.
   */
  WARMING_UP,
  /** The available power is known to 5 % (1 sigma) or better. */
  SHARP,
  /**
   * The available power is known less accurately, or the throttle is not used, or outliers are
   * frequent: use the lower bound.
   */
  COARSE,
  /** Past the knee: more throttle gives less power. Close the throttle and land. */
  PAST_KNEE,
  /** Samples are refused: the figures are a prediction whose interval widens. */
  SENSOR_FAULT;

  /**
   * Whether the reading has a margin to act on: sharp, coarse or past the knee.
   *
   * @return false on the ground, while warming up and without readings
   */
  public boolean bearsMargin() {
    return this == SHARP || this == COARSE || this == PAST_KNEE;
  }

  /**
   * Whether the reading has a margin to act on and is not past the knee: sharp or coarse.
   *
   * @return false if {@link #bearsMargin()} is false, and past the knee
   */
  public boolean beforeKnee() {
    return bearsMargin() && this != PAST_KNEE;
  }
}
