package org.solarmargin.cli.mavlink;

/**
 * The values received for one instant of a flight; missing values are NaN.
 *
 * @param nanos time of the flight, ns since any fixed origin
 * @param volts bus voltage, V
 * @param amps bus current, A
 * @param throttle mean motor command, 0 to 1
 * @param celsius cell temperature, degrees Celsius
 */
public record Row(long nanos, double volts, double amps, double throttle, double celsius) {

  /**
   * Whether it has a reading of the bus.
   *
   * @return true if volts or amperes are present
   */
  public boolean hasReading() {
    return !Double.isNaN(volts) || !Double.isNaN(amps);
  }

  /**
   * Whether it has nothing but a time.
   *
   * @return true if so
   */
  public boolean empty() {
    return !hasReading() && Double.isNaN(throttle) && Double.isNaN(celsius);
  }

  /**
   * The same row at another time.
   *
   * @param other time, ns
   * @return a new row
   */
  public Row at(long other) {
    return new Row(other, volts, amps, throttle, celsius);
  }
}
