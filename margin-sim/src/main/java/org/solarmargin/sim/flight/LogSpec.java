package org.solarmargin.sim.flight;

/**
 * The format of the log.
 *
 * @param sampleHertz sample rate, Hz
 * @param throttleStep step to which the throttle is rounded; 0 for none
 * @param throttlePower power of the curve from commanded to logged throttle, {@code hover
 *     (u/hover)^power}: 1 logs the command, about 2 logs thrust
 */
public record LogSpec(double sampleHertz, double throttleStep, double throttlePower) {

  /**
   * A log of the command itself, not rounded.
   *
   * @param sampleHertz sample rate, Hz
   * @return the log
   */
  public static LogSpec plain(double sampleHertz) {
    return new LogSpec(sampleHertz, 0, 1);
  }
}
