package org.solarmargin.sim.air;

/** Single gusts of one minus cosine, in the two shapes that are in use; do not mix them up. */
public final class DiscreteGust {

  private DiscreteGust() {}

  /**
   * MIL-F-8785C: half a wave, then held.
   *
   * @param metres way into the gust
   * @param lengthMetres dm, over which it rises
   * @param peak Vm, m/s
   * @return m/s
   */
  public static double held(double metres, double lengthMetres, double peak) {
    if (metres <= 0) {
      return 0;
    }
    return metres >= lengthMetres
        ? peak
        : 0.5 * peak * (1 - StrictMath.cos(Math.PI * metres / lengthMetres));
  }

  /**
   * 14 CFR 25.341(a): a whole wave, back to zero.
   *
   * @param metres way into the gust
   * @param gradientMetres H, way to the peak
   * @param peak Uds, m/s
   * @return m/s
   */
  public static double wave(double metres, double gradientMetres, double peak) {
    return metres <= 0 || metres >= 2 * gradientMetres
        ? 0
        : 0.5 * peak * (1 - StrictMath.cos(Math.PI * metres / gradientMetres));
  }
}
