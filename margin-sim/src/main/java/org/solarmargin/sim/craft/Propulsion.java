package org.solarmargin.sim.craft;

/**
 * Motors and rotors of a craft, which all turn at the same speed.
 *
 * <p>Each motor has the winding voltage {@code throttle V}, back-EMF {@code ke omega}, resistance R
 * and no-load current I0, and does not brake; for each rotor see {@link Rotor}. The constants
 * follow from the airframe's figures in hover at sea level in the standard atmosphere. The speed
 * obeys {@code J domega/dt = ke (I - I0) - P/omega}.
 */
public final class Propulsion {

  private static final double SIZING_DENSITY = 1.225;
  private static final double SLOWEST = 1;
  private static final int ITERATIONS = 30;
  private static final double TOLERANCE = 1e-7;

  private final Airframe frame;
  private final Rotor rotor;

  /**
   * A copy of the rotor for calculations of steady flight, so that they do not change the state of
   * the flown one.
   */
  private final Rotor steady;

  private final double emfPerSpeed;
  private final double ohms;
  private final double noLoadAmps;
  private final double inertia;

  private double omega;
  private double thrust;

  /**
   * Creates motors at rest.
   *
   * @param frame the craft
   */
  public Propulsion(Airframe frame) {
    this.frame = frame;
    rotor = new Rotor(frame.diameterMetres(), frame.thrustCoefficient(), frame.figureOfMerit());
    steady = new Rotor(frame.diameterMetres(), frame.thrustCoefficient(), frame.figureOfMerit());
    double each = frame.weightNewtons() / frame.rotors();
    double hoverSpeed = rotor.speedFor(each, SIZING_DENSITY);
    double shaft = rotor.watts(each, SIZING_DENSITY, 0, 0);
    double winding = frame.hoverThrottle() * frame.hoverBusVolts();
    emfPerSpeed = winding * (1 - frame.copperShare()) / hoverSpeed;
    double torque = shaft / hoverSpeed;
    double amps = torque / emfPerSpeed / (1 - frame.noLoadShare());
    noLoadAmps = amps * frame.noLoadShare();
    ohms = winding * frame.copperShare() / amps;
    inertia = frame.motorSeconds() * (emfPerSpeed * emfPerSpeed / ohms + 2 * torque / hoverSpeed);
  }

  /**
   * Bus current that all motors draw.
   *
   * @param busVolts V
   * @param throttle 0 to 1
   * @return A, 0 or more
   */
  public double busAmps(double busVolts, double throttle) {
    double drive = throttle * busVolts - emfPerSpeed * omega;
    return drive <= 0 ? 0 : frame.rotors() * throttle * drive / ohms / frame.driveEfficiency();
  }

  /**
   * Slope of {@link #busAmps}.
   *
   * @param busVolts V
   * @param throttle 0 to 1
   * @return A/V
   */
  public double busAmpsPerVolt(double busVolts, double throttle) {
    double drive = throttle * busVolts - emfPerSpeed * omega;
    return drive <= 0 ? 0 : frame.rotors() * throttle * throttle / ohms / frame.driveEfficiency();
  }

  /**
   * Advances the rotors by one step.
   *
   * @param seconds length of the step, s
   * @param busVolts V
   * @param throttle 0 to 1
   * @param density kg/m3
   * @param inflow speed of air from above, m/s
   * @param cross speed of air along the discs, m/s
   */
  public void step(
      double seconds,
      double busVolts,
      double throttle,
      double density,
      double inflow,
      double cross) {
    double each = rotor.thrust(omega, density, inflow);
    double shaft = rotor.watts(each, density, inflow, cross);
    double drive = throttle * busVolts - emfPerSpeed * omega;
    double amps = drive > 0 ? drive / ohms : 0;
    double drag = omega > 0 ? noLoadAmps * emfPerSpeed : 0;
    double load = shaft / Math.max(omega, SLOWEST) + drag;
    // the back-EMF is taken at the end of the step (implicit), so that a stiff motor stays stable
    double stiff = drive > 0 ? emfPerSpeed * emfPerSpeed / ohms : 0;
    double change = (amps * emfPerSpeed - load) * seconds / (inertia + stiff * seconds);
    omega = Math.max(omega + change, 0);
    thrust = frame.rotors() * each;
  }

  /**
   * Sets the rotor speed of hover.
   *
   * @param density kg/m3
   */
  public void settleInHover(double density) {
    omega = rotor.speedFor(frame.weightNewtons() / frame.rotors(), density);
    thrust = frame.weightNewtons();
  }

  /**
   * Thrust of all rotors in the last step.
   *
   * @return N
   */
  public double thrustNewtons() {
    return thrust;
  }

  /**
   * Rotor speed.
   *
   * @return rad/s
   */
  public double omega() {
    return omega;
  }

  /**
   * Kinetic energy of the rotors.
   *
   * @return J
   */
  public double kineticJoules() {
    return 0.5 * frame.rotors() * inertia * omega * omega;
  }

  /**
   * Bus power of the motors in steady level flight at a thrust.
   *
   * @param newtons thrust of all rotors, N
   * @param density kg/m3
   * @param cross speed of the mean wind along the discs, m/s
   * @return W at the bus
   */
  public double steadyWatts(double newtons, double density, double cross) {
    double each = newtons / frame.rotors();
    double speed = rotor.speedFor(each, density);
    return steadyWattsAt(speed, density, cross);
  }

  private double steadyWattsAt(double speed, double density, double cross) {
    double amps = steadyAmps(speed, density, cross);
    double winding = emfPerSpeed * speed + amps * ohms;
    return frame.rotors() * winding * amps / frame.driveEfficiency();
  }

  private double steadyAmps(double speed, double density, double cross) {
    double each = steady.thrust(speed, density, 0);
    return steady.watts(each, density, 0, cross) / speed / emfPerSpeed + noLoadAmps;
  }

  /**
   * Throttle that draws a given power in steady level flight.
   *
   * @param busWatts power of the motors at the bus, W
   * @param busVolts bus voltage, V
   * @param density kg/m3
   * @param cross speed of the mean wind along the discs, m/s
   * @return throttle, may exceed 1
   */
  public double throttleFor(double busWatts, double busVolts, double density, double cross) {
    // power is nearly proportional to the cube of speed, so scaling by the cube root of the ratio
    // converges fast
    double speed = Math.max(omega, SLOWEST);
    for (int i = 0; i < ITERATIONS; i++) {
      double ratio = Math.max(busWatts, 0) / steadyWattsAt(speed, density, cross);
      double next = Math.max(speed * StrictMath.cbrt(ratio), SLOWEST);
      boolean done = Math.abs(next - speed) < TOLERANCE * speed;
      speed = next;
      if (done) {
        break;
      }
    }
    return (emfPerSpeed * speed + steadyAmps(speed, density, cross) * ohms) / busVolts;
  }
}
