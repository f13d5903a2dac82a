package org.solarmargin.core.timing;

/**
 * The time model of the readings and the throttle of one sample.
 *
 * <p>The constructor throws {@link IllegalArgumentException}, with the rule and the value, if a
 * value is out of range or NaN.
 *
 * @param volts timing of the bus voltage
 * @param amps timing of the bus current
 * @param commandLagSeconds first-order lag with which a commanded throttle reaches the motors (the
 *     ramp of a motor controller), s, 0 to 1; the rotors' own inertia is not part of it
 * @param commandDelaySeconds pure delay from the logged throttle to the motors, s, 0 to 0.5
 * @param throttleUsed whether the throttle matches the readings in time; if not, the estimate is
 *     based on voltage and current alone
 * @param source origin of the time model
 */
public record TimeModel(
    ChannelTiming volts,
    ChannelTiming amps,
    double commandLagSeconds,
    double commandDelaySeconds,
    boolean throttleUsed,
    Source source) {

  /** Origin of a time model. */
  public enum Source {
    /** The profile, or the embedder. */
    STATED,
    /** A search over readings and throttle. */
    FOUND,
    /** Not known: it is to be found from the readings. */
    UNKNOWN
  }

  /** Longest lag of the command, s. */
  public static final double LONGEST_COMMAND_LAG_SECONDS = 1;

  /** All channels are known to belong to the same instant. */
  public static final TimeModel SIMULTANEOUS =
      new TimeModel(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0, 0, true, Source.STATED);

  /** The timing is not known and is to be found from the readings. */
  public static final TimeModel UNKNOWN =
      new TimeModel(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0, 0, false, Source.UNKNOWN);

  public TimeModel {
    check("commandLagSeconds", commandLagSeconds, LONGEST_COMMAND_LAG_SECONDS);
    check("commandDelaySeconds", commandDelaySeconds, ChannelTiming.LONGEST_DELAY_SECONDS);
  }

  /**
   * The same time model without the throttle. The part of the filters that voltage and current have
   * in common is removed as well, because it cannot be identified without the throttle and the
   * bound holds without it.
   *
   * @return a model whose throttle is not used
   */
  public TimeModel withoutThrottle() {
    double shared = Math.min(volts.filterSeconds(), amps.filterSeconds());
    return new TimeModel(
        volts.shortened(shared),
        amps.shortened(shared),
        commandLagSeconds,
        commandDelaySeconds,
        false,
        source);
  }

  /**
   * The longer of the two channels' filters.
   *
   * @return s, 0 or more
   */
  public double longestFilterSeconds() {
    return Math.max(volts.filterSeconds(), amps.filterSeconds());
  }

  /**
   * Whether the time model is known, so that no search is needed.
   *
   * @return true if the model was stated, or found before
   */
  public boolean known() {
    return source != Source.UNKNOWN;
  }

  private static void check(String name, double value, double high) {
    if (!(value >= 0 && value <= high)) {
      throw new IllegalArgumentException(name + " must be in [0, " + high + "]: " + value);
    }
  }
}
