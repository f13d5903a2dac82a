package org.solarmargin.sim.heat;

/**
 * A lumped thermal model: the cells absorb the light that they do not convert into power and lose
 * the heat to the air.
 *
 * <p>The temperature rise is {@code a E / h} and the time constant {@code C / h}, with absorbed
 * share a = 0.7, {@code C} = 429 J/m2/K (a 160 um wafer between two 50 um films; lumped from bulk
 * properties, no publication found) and {@code h = 10 + 3 v} W/m2/K for both faces (common
 * practice, no source). With 6 m/s of downwash in hover, {@code h} = 28: 25 K above the air in full
 * sun and a time constant of 15 s; in still air 70 K and 43 s.
 */
public final class CellHeat {

  private static final double ABSORBED = 0.7;
  private static final double CAPACITY = 429;
  private static final double STILL_AIR = 10;
  private static final double PER_WIND = 3;

  private double celsius = Double.NaN;

  /** Creates cells whose temperature is set by the first step. */
  public CellHeat() {}

  /**
   * Cell temperature in steady state.
   *
   * @param suns light, suns
   * @param airCelsius air temperature, degrees Celsius
   * @param wind speed of the air over the cells, downwash included, m/s
   * @return degrees Celsius
   */
  public static double steady(double suns, double airCelsius, double wind) {
    return airCelsius + ABSORBED * 1000 * suns / (STILL_AIR + PER_WIND * wind);
  }

  /**
   * Time constant of the cell temperature.
   *
   * @param wind speed of the air over the cells, m/s
   * @return s
   */
  public static double lag(double wind) {
    return CAPACITY / (STILL_AIR + PER_WIND * wind);
  }

  /**
   * Advances the temperature by one step; the first step sets the steady state.
   *
   * @param seconds length of the step, s
   * @param suns light, suns
   * @param airCelsius air temperature, degrees Celsius
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
