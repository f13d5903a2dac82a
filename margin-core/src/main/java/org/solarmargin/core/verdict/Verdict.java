package org.solarmargin.core.verdict;

/** The gate's verdict on one sample. */
public enum Verdict {
  /** The sample is plausible. */
  ACCEPTED("accepted"),
  /** Voltage and current are absent or repeat the last ones: there is no measurement update. */
  NO_NEW_READING("no new reading"),
  /** Time, voltage or current is infinite, or the throttle is not a number. */
  NOT_A_NUMBER("not a number"),
  /** Time is the same as the last sample's. */
  TIME_REPEATED("time repeated"),
  /** Time is before the last sample's. */
  TIME_BACKWARD("time runs backward"),
  /** Time is far ahead of the last sample's and not confirmed by the following samples. */
  TIME_AHEAD("time far ahead"),
  /** Throttle is outside 0 to 1. */
  THROTTLE_OUT_OF_RANGE("throttle outside 0 to 1"),
  /** Current is below zero by more than its noise and offset. */
  CURRENT_NEGATIVE("current below zero"),
  /** Current is more than the array can give in any light. */
  CURRENT_IMPOSSIBLE("current above what the array can give"),
  /** Voltage is below zero by more than its noise. */
  VOLTAGE_NEGATIVE("voltage below zero"),
  /** Voltage is more than the array can give in any light: wrong cell count, scale or log. */
  VOLTAGE_IMPOSSIBLE("voltage above what the array can give"),
  /** A sensor repeats one exact value for far longer than usual while the throttle moves. */
  FROZEN("sensor frozen"),
  /** An outlier: the reading is far from its neighbours. */
  SPIKE("spike");

  private final String words;

  Verdict(String words) {
    this.words = words;
  }

  /**
   * Whether the sample was refused.
   *
   * @return false if it was accepted or brought no new reading
   */
  public boolean refused() {
    return this != ACCEPTED && this != NO_NEW_READING;
  }

  /**
   * Whether the sample was refused because of its time alone.
   *
   * @return true if time is repeated, runs backward or is far ahead
   */
  public boolean ofTime() {
    return this == TIME_REPEATED || this == TIME_BACKWARD || this == TIME_AHEAD;
  }

  /**
   * The verdict as text.
   *
   * @return lower case, no full stop
   */
  public String words() {
    return words;
  }
}
