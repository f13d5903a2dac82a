package org.solarmargin.sim.air;

/** The troposphere of ISO 2533:1975, geopotential altitude, -500 to 11000 m. */
public final class StandardAtmosphere {

  private static final double SEA_LEVEL_KELVIN = 288.15;
  private static final double SEA_LEVEL_PASCAL = 101325;
  private static final double LAPSE = 0.0065;
  private static final double GAS = 287.05287;
  private static final double EXPONENT = 9.80665 / (LAPSE * GAS);

  private StandardAtmosphere() {}

  /**
   * Temperature.
   *
   * @param metres altitude
   * @return K
   */
  public static double kelvin(double metres) {
    return SEA_LEVEL_KELVIN - LAPSE * metres;
  }

  /**
   * Pressure.
   *
   * @param metres altitude
   * @return Pa
   */
  public static double pascal(double metres) {
    return SEA_LEVEL_PASCAL * StrictMath.pow(kelvin(metres) / SEA_LEVEL_KELVIN, EXPONENT);
  }

  /**
   * Density at the standard temperature.
   *
   * @param metres altitude
   * @return kg/m3
   */
  public static double density(double metres) {
    return pascal(metres) / (GAS * kelvin(metres));
  }

  /**
   * Density at a given air temperature.
   *
   * @param metres altitude
   * @param celsius air temperature
   * @return kg/m3
   */
  public static double density(double metres, double celsius) {
    return pascal(metres) / (GAS * (celsius + 273.15));
  }
}
