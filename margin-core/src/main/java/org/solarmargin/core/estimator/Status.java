package org.solarmargin.core.estimator;

/** How far a reading may be trusted. */
public enum Status {
  /** No sample has been accepted yet; every figure is NaN. */
  NO_ESTIMATE,
  /**
   * Rotors idle: the light is guessed from the voltage alone, the interval is wide, alerts are
   * silent.
   */
  IDLE,
  /**
   * In flight for less than the warm-up time, or the interval is still wide: do not act on the
   * margin.
   */
  WARMING_UP,
  /** Available power known to 5 % (1 sigma) or better. */
  SHARP,
  /** Known, but less well than 5 % (1 sigma): the lower bound is the figure to use. */
  COARSE,
  /** On the wrong side of the knee: more throttle gives less power. Close the throttle and land. */
  PAST_KNEE,
  /** Samples are refused: what is shown is old, and its interval grows. */
  SENSOR_FAULT;

  /**
   * Whether the reading bears a margin to act on: sharp, coarse or past the knee.
   *
   * @return false on the ground, while warming up and without readings
   */
  public boolean bearsMargin() {
    return this == SHARP || this == COARSE || this == PAST_KNEE;
  }

  /**
   * Whether the reading bears a margin on the near side of the knee: sharp or coarse.
   *
   * @return false where {@link #bearsMargin()} is, and past the knee
   */
  public boolean beforeKnee() {
    return bearsMargin() && this != PAST_KNEE;
  }
}
