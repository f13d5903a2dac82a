package org.solarmargin.sim.air;

/** Single gusts of the form one minus cosine, in the two common shapes, which differ. */
public final class DiscreteGust {

  private DiscreteGust() {}

  /**
   * MIL-F-8785C: half a wave, then constant.
   *
   * @param metres distance into the gust, m
   * @param lengthMetres dm, the distance over which it rises, m
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
   * @param metres distance into the gust, m
   * @param gradientMetres H, distance to the peak, m
   * @param peak Uds, m/s
   * @return m/s
   */
  public static double wave(double metres, double gradientMetres, double peak) {
    return metres <= 0 || metres >= 2 * gradientMetres
        ? 0
        : 0.5 * peak * (1 - StrictMath.cos(Math.PI * metres / gradientMetres));
  }
}
