package org.solarmargin.sim.craft;

/**
 * The parameters of a simulated craft.
 *
 * @param massKilograms take-off mass, kg
 * @param rotors number of rotors
 * @param diameterMetres diameter of each rotor, m
 * @param thrustCoefficient CT of each rotor
 * @param figureOfMerit figure of merit of each rotor
 * @param hoverThrottle throttle in hover at {@code hoverBusVolts}, which determines the motors'
 *     speed constant
 * @param hoverBusVolts bus voltage in hover, V
 * @param copperShare voltage drop across the resistance over the winding voltage in hover
 * @param noLoadShare no-load current over motor current in hover
 * @param driveEfficiency efficiency of the speed controllers
 * @param motorSeconds time constant of the rotor speed in hover, s
 * @param housekeepingWatts power of flight controller, radio and the like, W
 * @param brownoutVolts bus voltage below which everything stops, V; 0 for none
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
