package org.solarmargin.sim.air;

/**
 * A wind over the cells that rises and falls as a sine, so that they cool and warm in turn. It
 * pushes no rotor: gusts that do are {@link SingleGust} and {@link DrydenGust}.
 *
 * @param amplitude of its speed about the mean, m/s, 0 or more
 * @param seconds period, more than 0
 * @param phase at the start of the flight, rad
 */
public record CoolingGusts(double amplitude, double seconds, double phase) {

  /** A steady wind. */
  public static final CoolingGusts NONE = new CoolingGusts(0, 1, 0);

  /**
   * What the gusts add to the speed of the air over the cells.
   *
   * @param time of the flight, s
   * @return m/s, from minus to plus the amplitude
   */
  public double speed(double time) {
    return amplitude == 0 ? 0 : amplitude * Math.sin(2 * Math.PI * time / seconds + phase);
  }
}
