package org.solarmargin.sim.timing;

/**
 * The timing of the throttle that acts on the motors relative to the commanded one: a pure delay,
 * followed by a first-order lag. The inertia of the rotors is separate.
 *
 * <p>Both correspond to those of the same names in the estimator's {@link
 * org.solarmargin.core.timing.TimeModel}.
 *
 * @param lagSeconds time constant of the lag, s; 0 for none
 * @param delaySeconds pure delay, s; 0 for none
 */
public record CommandTiming(double lagSeconds, double delaySeconds) {

  /** The command acts immediately. */
  public static final CommandTiming IMMEDIATE = new CommandTiming(0, 0);
}
