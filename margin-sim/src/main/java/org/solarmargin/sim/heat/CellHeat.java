package org.solarmargin.sim.heat;

/**
 * One lump of heat: cells take what light they do not turn into power and give it to moving air.
 *
 * <p>Rise {@code a E / h} and lag {@code C / h} with absorbed share a = 0.7, {@code C} = 429 J/m2/K
 * (a 160 um wafer between two 50 um films; lumped from bulk properties, no publication found),
 * {@code h = 10 + 3 v} W/m2/K for both faces. With the 6 m/s of a hovering craft's downwash {@code
 * h} = 28: 25 K over the air in full sun and 15 s of lag, in still air 70 K and 43 s.
 */
public final class CellHeat {

  private static final double ABSORBED = 0.7;
  private static final double CAPACITY = 429;
  private static final double STILL_AIR = 10;
  private static final double PER_WIND = 3;

  private double celsius = Double.NaN;

  /** Cells whose temperature is set by the first step. */
  public CellHeat() {}

  /**
   * Where the cells end in steady light.
   *
   * @param suns light
   * @param airCelsius air
   * @param wind speed of the air over the cells, downwash included, m/s
   * @return degrees Celsius
   */
  public static double steady(double suns, double airCelsius, double wind) {
    return airCelsius + ABSORBED * 1000 * suns / (STILL_AIR + PER_WIND * wind);
  }

  /**
   * Lag of the cells.
   *
   * @param wind speed of the air over the cells, m/s
   * @return s
   */
  public static double lag(double wind) {
    return CAPACITY / (STILL_AIR + PER_WIND * wind);
  }

  /**
   * One step; the first one settles at once.
   *
   * @param seconds step
   * @param suns light
   * @param airCelsius air
   * @param wind speed of the air over the cells, m/s
   * @return cell temperature, degrees Celsius
   */
  public double step(double seconds, double suns, double airCelsius, double wind) {
    double target = steady(suns, airCelsius, wind);
    if (Double.isNaN(celsius)) {
      celsius = target;
    }
    celsius += (target - celsius) * Math.min(seconds / lag(wind), 1);
    return celsius;
  }
}
