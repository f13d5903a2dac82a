package org.solarmargin.core.timing;

/**
 * Which instants the readings and the throttle of one sample belong to.
 *
 * <p>The constructor throws {@link IllegalArgumentException} with rule and value where one is out
 * of range or NaN.
 *
 * @param volts of the bus voltage's reading
 * @param amps of the bus current's reading
 * @param commandLagSeconds first-order lag with which a commanded throttle reaches the motors (the
 *     ramp of a motor controller), s, 0 to 1; the rotors' own inertia is not part of it
 * @param commandDelaySeconds pure delay from the logged throttle to the motors, s, 0 to 0.5
 * @param throttleUsed whether the throttle's moves belong to the readings in time; if not, the
 *     estimate rests on volts and amperes alone
 * @param source who says so
 */
public record TimeModel(
    ChannelTiming volts,
    ChannelTiming amps,
    double commandLagSeconds,
    double commandDelaySeconds,
    boolean throttleUsed,
    Source source) {

  /** Where a time model comes from. */
  public enum Source {
    /** The profile, or the embedder. */
    STATED,
    /** A search over readings and throttle. */
    FOUND,
    /** Nobody has told the time model: it is to be found from the readings. */
    UNKNOWN
  }

  /** Longest lag of the command, s. */
  public static final double LONGEST_COMMAND_LAG_SECONDS = 1;

  /** All channels tell of the same instant, and that is known. */
  public static final TimeModel SIMULTANEOUS =
      new TimeModel(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0, 0, true, Source.STATED);

  /** Nothing is known: to be found from the readings. */
  public static final TimeModel UNKNOWN =
      new TimeModel(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0, 0, false, Source.UNKNOWN);

  public TimeModel {
    check("commandLagSeconds", commandLagSeconds, LONGEST_COMMAND_LAG_SECONDS);
    check("commandDelaySeconds", commandDelaySeconds, ChannelTiming.LONGEST_DELAY_SECONDS);
  }

  /**
   * The same without the throttle: filters that volts and amperes share are not inverted either,
   * because without the throttle nothing tells how long they are, and a bound holds without.
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
   * Whether there is nothing to search for.
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
