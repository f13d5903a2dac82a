package org.solarmargin.core.rotor;

/**
 * All motors of a craft as one equivalent DC motor behind a chopper.
 *
 * <p>The speed controller applies {@code throttle x bus volts} to the winding, which has resistance
 * R and back-EMF E, the rotor speed in volts: the motor current is {@code (throttle V - E) / R},
 * the bus current {@code throttle} times that. The propeller's power is proportional to the cube of
 * speed, so the motor current in steady state is {@code C E^2}. Because the voltage drop across R
 * is small, the current responds to a step of throttle at once and strongly, and then settles as
 * the rotor follows. Power in steady state is proportional to a little less than the cube of the
 * winding voltage.
 *
 * <p>These are the textbook equations of a permanent-magnet motor without no-load current; motor
 * current below zero (braking) does not occur.
 */
public final class RotorLoad {

  private static final int ITERATIONS = 24;
  private static final double TOLERANCE = 1e-9;

  private RotorLoad() {}

  /**
   * Back-EMF in steady state.
   *
   * @param windingVolts throttle times bus voltage, V, 0 or more
   * @param ohms R, ohm, more than 0
   * @param propulsion C, A/V2, more than 0
   * @return E, V
   */
  public static double steadyBackEmf(double windingVolts, double ohms, double propulsion) {
    return 2 * windingVolts / (1 + Math.sqrt(1 + 4 * ohms * propulsion * windingVolts));
  }

  /**
   * Winding voltage that maintains a back-EMF in steady state.
   *
   * @param emf E, V, 0 or more
   * @param ohms R, ohm, more than 0
   * @param propulsion C, A/V2, more than 0
   * @return throttle times bus voltage, V
   */
  public static double windingVolts(double emf, double ohms, double propulsion) {
    return (1 + ohms * propulsion * emf) * emf;
  }

  /**
   * Back-EMF at which the motors take a given power in steady state.
   *
   * @param watts power into the motors, W, 0 or more
   * @param ohms R, ohm, more than 0
   * @param propulsion C, A/V2, more than 0
   * @param near initial guess, V; 0 or NaN if there is none
   * @return E, V
   */
  public static double backEmfFor(double watts, double ohms, double propulsion, double near) {
    if (watts <= 0) {
      return 0;
    }
    // C E^3 (1 + R C E) = P is convex and increasing: a first Newton step from below leads above
    // the
    // root, far above it if started far below, and from above the iteration never crosses the root
    double shaft = propulsion * near * near * near;
    boolean close = shaft > 0.5 * watts && shaft < 2 * watts;
    double emf = close ? near : Math.cbrt(watts / propulsion);
    for (int i = 0; i < ITERATIONS; i++) {
      double copper = ohms * propulsion * emf;
      double cube = propulsion * emf * emf;
      double step = (cube * emf * (1 + copper) - watts) / (cube * (3 + 4 * copper));
      emf -= step;
      if (Math.abs(step) <= TOLERANCE * emf) {
        break;
      }
    }
    return emf;
  }

  /**
   * Propulsion constant from a hover point.
   *
   * @param watts power into the motors, W, more than 0
   * @param windingVolts throttle times bus voltage there, V, more than 0
   * @param copperShare voltage drop across the resistance over the winding voltage, 0 to 0.5
   * @return C, A/V2
   */
  public static double propulsionFrom(double watts, double windingVolts, double copperShare) {
    double emf = windingVolts * (1 - copperShare);
    return watts / windingVolts / (emf * emf);
  }

  /**
   * Winding resistance from a hover point.
   *
   * @param watts power into the motors, W, more than 0
   * @param windingVolts throttle times bus voltage there, V, more than 0
   * @param copperShare voltage drop across the resistance over the winding voltage, 0 to 0.5
   * @return R, ohm
   */
  public static double ohmsFrom(double watts, double windingVolts, double copperShare) {
    return copperShare * windingVolts * windingVolts / watts;
  }
}
