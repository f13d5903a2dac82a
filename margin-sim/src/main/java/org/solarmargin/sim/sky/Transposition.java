package org.solarmargin.sim.sky;

/**
 * Transposition of light on level ground to a tilted plane: the beam by the angle of incidence, the
 * diffuse light by the share of the sky that the plane faces (isotropic sky, Liu and Jordan, Solar
 * Energy 7, 1963; Duffie and Beckman, section 2.15). Reflection from the ground is neglected: at a
 * tilt of 15 degrees over water or grass it is below 0.4 % of the light.
 */
public final class Transposition {

  /** Below about 1.1 degrees of solar elevation the ratio of the cosines is not meaningful. */
  private static final double LOWEST_SUN_COSINE = 0.02;

  private Transposition() {}

  /**
   * Cosine of the angle between the sun and the plane's normal.
   *
   * @param zenithDegrees zenith angle of the sun
   * @param azimuthDegrees azimuth of the sun, from north, eastward
   * @param tiltDegrees tilt of the plane from level
   * @param headingDegrees direction to which the plane tilts, from north, eastward
   * @return -1 to 1; negative with the sun behind the plane
   */
  public static double incidenceCosine(
      double zenithDegrees, double azimuthDegrees, double tiltDegrees, double headingDegrees) {
    double zenith = StrictMath.toRadians(zenithDegrees);
    double tilt = StrictMath.toRadians(tiltDegrees);
    double turn = StrictMath.toRadians(azimuthDegrees - headingDegrees);
    return StrictMath.cos(zenith) * StrictMath.cos(tilt)
        + StrictMath.sin(zenith) * StrictMath.sin(tilt) * StrictMath.cos(turn);
  }

  /**
   * Beam in the plane.
   *
   * @param beam beam on level ground, any unit
   * @param zenithDegrees zenith angle of the sun
   * @param azimuthDegrees azimuth of the sun, from north, eastward
   * @param tiltDegrees tilt of the plane from level
   * @param headingDegrees direction to which the plane tilts, from north, eastward
   * @return beam in the same unit; 0 with the sun behind the plane or within 1.1 degrees of the
   *     horizon
   */
  public static double beam(
      double beam,
      double zenithDegrees,
      double azimuthDegrees,
      double tiltDegrees,
      double headingDegrees) {
    double sun = StrictMath.cos(StrictMath.toRadians(zenithDegrees));
    double incidence = incidenceCosine(zenithDegrees, azimuthDegrees, tiltDegrees, headingDegrees);
    return sun > LOWEST_SUN_COSINE ? beam * Math.max(incidence, 0) / sun : 0;
  }

  /**
   * Diffuse light in the plane.
   *
   * @param diffuse diffuse light on level ground, any unit
   * @param tiltDegrees tilt of the plane from level
   * @return diffuse light in the same unit
   */
  public static double diffuse(double diffuse, double tiltDegrees) {
    return diffuse * (1 + StrictMath.cos(StrictMath.toRadians(tiltDegrees))) / 2;
  }
}
