package org.solarmargin.sim.timing;

/**
 * How the throttle that acts on the motors follows the commanded one in time: a pure delay, then a
 * first-order lag. The rotors' own inertia comes on top.
 *
 * <p>Both are those of the same names in the estimator's {@link
 * org.solarmargin.core.timing.TimeModel}.
 *
 * @param lagSeconds time constant of the lag, s; 0 for none
 * @param delaySeconds pure delay, s; 0 for none
 */
public record CommandTiming(double lagSeconds, double delaySeconds) {

  /** The command acts at once. */
  public static final CommandTiming IMMEDIATE = new CommandTiming(0, 0);
}
