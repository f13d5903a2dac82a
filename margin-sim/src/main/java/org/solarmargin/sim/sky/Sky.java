package org.solarmargin.sim.sky;

/** Light over time. */
@FunctionalInterface
public interface Sky {

  /**
   * Light at a time.
   *
   * @param seconds time since the start of the flight, s
   * @return suns in the plane of the array, 1000 W/m2 each, 0 or more
   */
  double suns(double seconds);
}
