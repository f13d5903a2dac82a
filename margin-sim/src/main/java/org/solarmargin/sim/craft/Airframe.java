package org.solarmargin.sim.craft;

/**
 * What the bench must know of a craft.
 *
 * @param massKilograms take-off mass
 * @param rotors how many
 * @param diameterMetres of each rotor
 * @param thrustCoefficient CT of each rotor
 * @param figureOfMerit of each rotor
 * @param hoverThrottle motor command that hovers at {@code hoverBusVolts}: fixes the motors' speed
 *     constant
 * @param hoverBusVolts see there
 * @param copperShare part of the winding voltage that the resistance takes in hover
 * @param noLoadShare part of the motor current in hover that turns the motor alone
 * @param driveEfficiency of the speed controllers
 * @param motorSeconds lag of rotor speed behind the throttle in hover
 * @param housekeepingWatts flight controller, radio, ...
 * @param brownoutVolts bus voltage below which everything stops; 0 for none
 */
public record Airframe(
    double massKilograms,
    int rotors,
    double diameterMetres,
    double thrustCoefficient,
    double figureOfMerit,
    double hoverThrottle,
    double hoverBusVolts,
    double copperShare,
    double noLoadShare,
    double driveEfficiency,
    double motorSeconds,
    double housekeepingWatts,
    double brownoutVolts) {

  /** Standard gravity, m/s2. */
  public static final double GRAVITY = 9.80665;

  /**
   * Weight.
   *
   * @return N
   */
  public double weightNewtons() {
    return massKilograms * GRAVITY;
  }
}
