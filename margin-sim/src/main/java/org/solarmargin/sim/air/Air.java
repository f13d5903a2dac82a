package org.solarmargin.sim.air;

/**
 * The air of one flight.
 *
 * @param celsius temperature
 * @param siteMetres height of the site over the sea
 * @param wind mean, m/s
 * @param wind20 W20 of the Dryden model, m/s
 * @param downwash speed of the rotors' air over the cells, m/s
 * @param gust a single one
 * @param cooling gusts over the cells alone
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
   * @param kelvin how much warmer
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
