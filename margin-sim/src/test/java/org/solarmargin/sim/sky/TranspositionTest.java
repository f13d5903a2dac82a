package org.solarmargin.sim.sky;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A tilted plane compared with worked examples of a textbook and pvlib's published test values. */
class TranspositionTest {

  /** pvlib-python, tests/test_irradiance.py, test_aoi_and_aoi_projection. */
  @ParameterizedTest
  @CsvSource({
    "0, 0, 0, 0, 1",
    "30, 180, 30, 180, 1",
    "30, 180, 150, 0, -1",
    "90, 0, 30, 60, 0.25",
    "90, 0, 30, 170, -0.4924038"
  })
  void incidenceEqualsPvlibs(
      double tilt, double heading, double zenith, double azimuth, double cosine) {
    assertEquals(cosine, Transposition.incidenceCosine(zenith, azimuth, tilt, heading), 1e-7);
  }

  /** pvlib-python, tests/test_irradiance.py, test_isotropic_float and test_isotropic_series. */
  @ParameterizedTest
  @CsvSource({
    "100, 88.30222215594891",
    "40.46149818, 35.728402",
    "118.45831879, 104.601328",
    "62.03376265, 54.777191"
  })
  void diffuseLightEqualsPvlibs(double level, double tilted) {
    assertEquals(tilted, Transposition.diffuse(level, 40), 1e-6);
  }

  /**
   * Duffie and Beckman, Solar Engineering of Thermal Processes, example 1.6.1: Madison, 43 degrees
   * north, February 13 (declination -14), 10:30 solar time (hour angle -22.5), a plane tilted by 45
   * degrees to 15 degrees west of south: angle of incidence 35 degrees, in whole degrees.
   */
  @Test
  void aPlaneInMadisonEqualsTheTextbookExample() {
    double[] sun = sun(43, -14, -22.5);
    double cosine = Transposition.incidenceCosine(sun[0], sun[1], 45, 180 + 15);
    assertEquals(35, Math.toDegrees(Math.acos(cosine)), 0.5);
  }

  /**
   * The same book, example 1.6.2: the sun over Madison at 9:30 on February 13 is 66.5 degrees from
   * the zenith and 40.0 degrees east of south; at 18:30 on July 1 (declination 23.1) 79.6 degrees
   * and 112.0 degrees west of south. The book continues with rounded values. This checks the test's
   * own calculation of the sun.
   */
  @ParameterizedTest
  @CsvSource({"-14, -37.5, 66.5, -40.0", "23.1, 97.5, 79.6, 112.0"})
  void theTestsOwnSunEqualsTheTextbookExample(
      double declination, double hourAngle, double zenith, double fromSouth) {
    double[] sun = sun(43, declination, hourAngle);
    assertEquals(zenith, sun[0], 0.1);
    assertEquals(fromSouth, sun[1] - 180, 0.1);
  }

  /**
   * The same book, 4th edition, example 2.15.1, page 90: 40 degrees north, February 20, 9 to 10 h,
   * a plane tilted by 60 degrees to the south, 796 W/m2 of diffuse light and a beam of 243.9 on
   * level ground. With the digits given by the tests of a public implementation: zenith 62.20,
   * angle of incidence 36.97, ratio of the beams 1.7144, 1171.24 W/m2 in the plane, of which
   * reflection from the ground is 0.6 x 1040 x (1 - cos 60) / 2 = 156 and is neglected here. The
   * tolerance of those tests and of this one is 0.1 %.
   */
  @Test
  void anHourOnASteepPlaneEqualsTheTextbookExample() {
    double[] sun = sun(40, -11.58, -37.5);
    assertEquals(62.20, sun[0], 0.01);
    double cosine = Transposition.incidenceCosine(sun[0], sun[1], 60, 180);
    assertEquals(36.97, Math.toDegrees(Math.acos(cosine)), 0.01);
    assertEquals(1.7144, Transposition.beam(1, sun[0], sun[1], 60, 180), 1.7e-3);
    double beam = Transposition.beam(1040 - 796, sun[0], sun[1], 60, 180);
    assertEquals(1171.24 - 156, beam + Transposition.diffuse(796, 60), 1.2);
  }

  @Test
  void aSunBehindThePlaneLeavesTheDiffuseLight() {
    assertEquals(0, Transposition.beam(500, 80, 180, 60, 0));
    double level = DaySky.clearSky(80);
    assertEquals(0.15 * level * 0.75 / 1000, DaySky.onArray(80, 180, 60, 0), 1e-12);
  }

  /** Zenith and azimuth of the sun by the spherical triangle, degrees. */
  private static double[] sun(double latitude, double declination, double hourAngle) {
    double phi = Math.toRadians(latitude);
    double delta = Math.toRadians(declination);
    double omega = Math.toRadians(hourAngle);
    double up = Math.sin(phi) * Math.sin(delta) + Math.cos(phi) * Math.cos(delta) * Math.cos(omega);
    double west = Math.cos(delta) * Math.sin(omega);
    double south =
        Math.sin(phi) * Math.cos(delta) * Math.cos(omega) - Math.cos(phi) * Math.sin(delta);
    return new double[] {
      Math.toDegrees(Math.acos(up)), 180 + Math.toDegrees(Math.atan2(west, south))
    };
  }
}
