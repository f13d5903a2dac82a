package org.solarmargin.sim.craft;

/**
 * One open rotor: momentum theory with a figure of merit, and a thrust coefficient.
 *
 * <p>Thrust {@code T = CT rho n^2 D^4} in still air (n in rev/s), minus {@code CTJ rho n V D^3} for
 * inflow from above at speed V. Induced speed in climb and cross wind after Glauert: {@code v = T /
 * (2 rho A sqrt(Vx^2 + (Vc + v)^2))}. Power {@code T (v + Vc) / FM}, at least a tenth of that in
 * hover.
 */
public final class Rotor {

  private static final int ITERATIONS = 5;
  private static final double INFLOW_LOSS = 0.12;

  private final double diameter;
  private final double disc;
  private final double thrustCoefficient;
  private final double figureOfMerit;
  private double induced;

  /**
   * Creates a rotor.
   *
   * @param diameterMetres D, m
   * @param thrustCoefficient CT, static
   * @param figureOfMerit ideal over real power in hover, 0.3 to 0.9
   */
  public Rotor(double diameterMetres, double thrustCoefficient, double figureOfMerit) {
    this.diameter = diameterMetres;
    this.disc = Math.PI * diameterMetres * diameterMetres / 4;
    this.thrustCoefficient = thrustCoefficient;
    this.figureOfMerit = figureOfMerit;
  }

  /**
   * Ideal induced power of a hovering rotor.
   *
   * @param newtons thrust
   * @param disc area, m2
   * @param density kg/m3
   * @return W, {@code T^1.5 / sqrt(2 rho A)}
   */
  public static double idealWatts(double newtons, double disc, double density) {
    return newtons * Math.sqrt(newtons / (2 * density * disc));
  }

  /**
   * Speed at which the rotor has a given thrust in still air.
   *
   * @param newtons thrust
   * @param density kg/m3
   * @return rad/s
   */
  public double speedFor(double newtons, double density) {
    double d2 = diameter * diameter;
    return 2 * Math.PI * Math.sqrt(newtons / (thrustCoefficient * density * d2 * d2));
  }

  /**
   * Thrust.
   *
   * @param omega rad/s
   * @param density kg/m3
   * @param inflow speed of air from above (climb), m/s
   * @return N, 0 or more
   */
  public double thrust(double omega, double density, double inflow) {
    double n = omega / (2 * Math.PI);
    double d2 = diameter * diameter;
    double still = thrustCoefficient * density * n * n * d2 * d2;
    return Math.max(still - INFLOW_LOSS * density * n * inflow * d2 * diameter, 0);
  }

  /**
   * Shaft power at a thrust.
   *
   * @param newtons thrust
   * @param density kg/m3
   * @param inflow speed of air from above, m/s
   * @param cross speed of air along the disc, m/s
   * @return W
   */
  public double watts(double newtons, double density, double inflow, double cross) {
    if (newtons <= 0) {
      induced = 0;
      return 0;
    }
    double hover = Math.sqrt(newtons / (2 * density * disc));
    double v = induced > 0 ? induced : hover;
    for (int i = 0; i < ITERATIONS; i++) {
      double through = inflow + v;
      double speed = Math.sqrt(cross * cross + through * through);
      double next = hover * hover / Math.max(speed, 0.1 * hover);
      v = 0.5 * (v + next);
    }
    induced = v;
    return Math.max(newtons * (v + inflow), 0.1 * newtons * hover) / figureOfMerit;
  }
}
