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
 * @param stated false where nobody has told the time model: it is then found from the readings
 */
public record TimeModel(
    ChannelTiming volts,
    ChannelTiming amps,
    double commandLagSeconds,
    double commandDelaySeconds,
    boolean stated) {

  /** Longest lag of the command, s. */
  public static final double LONGEST_COMMAND_LAG_SECONDS = 1;

  /** All channels tell of the same instant, and that is known. */
  public static final TimeModel SIMULTANEOUS =
      new TimeModel(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0, 0, true);

  /** Nothing is known: to be found from the readings. */
  public static final TimeModel UNKNOWN =
      new TimeModel(ChannelTiming.IMMEDIATE, ChannelTiming.IMMEDIATE, 0, 0, false);

  public TimeModel {
    check("commandLagSeconds", commandLagSeconds, LONGEST_COMMAND_LAG_SECONDS);
    check("commandDelaySeconds", commandDelaySeconds, ChannelTiming.LONGEST_DELAY_SECONDS);
  }

  private static void check(String name, double value, double high) {
    if (!(value >= 0 && value <= high)) {
      throw new IllegalArgumentException(name + " must be in [0, " + high + "]: " + value);
    }
  }
}
