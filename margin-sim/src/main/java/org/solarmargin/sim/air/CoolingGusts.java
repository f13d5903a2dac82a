package org.solarmargin.sim.air;

/**
 * A sinusoidal variation of the wind over the cells, which cools them more and less in turn. It
 * does not act on the rotors; {@link SingleGust} and {@link DrydenGust} do.
 *
 * @param amplitude amplitude of the speed about the mean, m/s, 0 or more
 * @param seconds period, s, more than 0
 * @param phase at the start of the flight, rad
 */
public record CoolingGusts(double amplitude, double seconds, double phase) {

  /** A steady wind. */
  public static final CoolingGusts NONE = new CoolingGusts(0, 1, 0);

  /**
   * Speed that the gusts add to the air over the cells.
   *
   * @param time of the flight, s
   * @return m/s, from minus to plus the amplitude
   */
  public double speed(double time) {
    return amplitude == 0 ? 0 : amplitude * Math.sin(2 * Math.PI * time / seconds + phase);
  }
}
