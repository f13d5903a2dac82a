package org.solarmargin.sim.air;

/**
 * The air of one flight.
 *
 * @param celsius temperature, degrees Celsius
 * @param siteMetres height of the site above sea level, m
 * @param wind mean wind, m/s
 * @param wind20 W20 of the Dryden model, m/s
 * @param downwash speed of the downwash over the cells in hover, m/s
 * @param gust a single gust
 * @param cooling gusts that act on the cells alone
 */
public record Air(
    double celsius,
    double siteMetres,
    double wind,
    double wind20,
    double downwash,
    SingleGust gust,
    CoolingGusts cooling) {

  /**
   * The same air at another temperature.
   *
   * @param kelvin difference of temperature, K
   * @return the air
   */
  public Air warmer(double kelvin) {
    return new Air(celsius + kelvin, siteMetres, wind, wind20, downwash, gust, cooling);
  }

  /**
   * The same air with other gusts over the cells.
   *
   * @param other gusts, not null
   * @return the air
   */
  public Air withCooling(CoolingGusts other) {
    return new Air(celsius, siteMetres, wind, wind20, downwash, gust, other);
  }
}
