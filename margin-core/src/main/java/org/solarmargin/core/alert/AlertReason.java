package org.solarmargin.core.alert;

/** Why an alert was raised or cleared. */
public enum AlertReason {
  /** The lower bound of the margin is small compared with the recent peak demand. */
  LOW_MARGIN("margin low against recent peak demand"),
  /** At its present trend the margin is gone within the time that it takes to react. */
  FALLING("margin falling to zero within the reaction time"),
  /** The craft is past the knee: more throttle gives less power. */
  PAST_KNEE("past the knee: more throttle gives less power"),
  /** Samples are refused, so the margin is not known. */
  NO_DATA("samples refused: margin unknown"),
  /** The condition has ended. */
  RECOVERED("condition ended"),
  /** The rotors no longer carry the craft. */
  LANDED("on the ground");

  private final String words;

  AlertReason(String words) {
    this.words = words;
  }

  /**
   * The reason as text.
   *
   * @return lower case, no full stop
   */
  public String words() {
    return words;
  }
}
