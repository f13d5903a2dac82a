package org.solarmargin.cli.mavlink;

/**
 * What came at one instant of a flight; what did not is NaN.
 *
 * @param nanos time of the flight, ns since any fixed origin
 * @param volts of the bus, V
 * @param amps of the bus, A
 * @param throttle mean motor command, 0 to 1
 * @param celsius of the cells, degrees Celsius
 */
public record Row(long nanos, double volts, double amps, double throttle, double celsius) {

  /**
   * Whether it has a reading of the bus.
   *
   * @return true if volts or amperes are there
   */
  public boolean reads() {
    return !Double.isNaN(volts) || !Double.isNaN(amps);
  }

  /**
   * Whether it has nothing but a time.
   *
   * @return true if so
   */
  public boolean empty() {
    return !reads() && Double.isNaN(throttle) && Double.isNaN(celsius);
  }

  /**
   * The same at another time.
   *
   * @param other ns
   * @return a new row
   */
  public Row at(long other) {
    return new Row(other, volts, amps, throttle, celsius);
  }
}
