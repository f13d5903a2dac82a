package org.solarmargin.sim.sky;

import java.time.ZonedDateTime;
import net.e175.klaus.solarpositioning.SPA;
import net.e175.klaus.solarpositioning.SolarPosition;

/**
 * Clear sky through a day: position of the sun by the NREL algorithm (Reda and Andreas,
 * NREL/TP-560-34302), light on the ground by Haurwitz (J. Meteorology 2, 1945), transposed to the
 * plane of an array that is tilted by the craft's pitch and heading.
 *
 * <p>The light on the ground is split into a beam and a diffuse part of fixed share; the beam
 * depends on the angle of incidence, the diffuse part on the share of the sky that the array faces.
 * Positions of the sun are computed once a minute and interpolated linearly.
 */
public final class DaySky implements Sky {

  private static final double DIFFUSE_SHARE = 0.15;
  private static final double STEP_SECONDS = 60;
  private static final double TYPICAL_DELTA_T_SECONDS = 69;

  private final double[] zenith;
  private final double[] azimuth;
  private final Attitude attitude;

  /**
   * Orientation of the array over time.
   *
   * @param tilt tilt due to the craft's mean pitch, degrees from level, nose down positive
   * @param heading direction to which the array tilts, degrees from north, eastward
   * @param turnPerSecond rate of turn of the heading, degrees/s
   * @param swing amplitude of the pitch about its mean, degrees
   * @param swingSeconds period of the pitch oscillation, s
   */
  public record Attitude(
      double tilt, double heading, double turnPerSecond, double swing, double swingSeconds) {}

  /**
   * Creates a day or a part of it.
   *
   * @param start start of the flight
   * @param seconds duration of the flight, s
   * @param latitude degrees, north positive
   * @param longitude degrees, east positive
   * @param attitude orientation of the array
   */
  public DaySky(
      ZonedDateTime start, double seconds, double latitude, double longitude, Attitude attitude) {
    int points = (int) Math.ceil(seconds / STEP_SECONDS) + 2;
    this.attitude = attitude;
    zenith = new double[points];
    azimuth = new double[points];
    for (int i = 0; i < points; i++) {
      ZonedDateTime time = start.plusSeconds((long) (i * STEP_SECONDS));
      SolarPosition sun =
          SPA.calculateSolarPosition(
              time, latitude, longitude, 0, TYPICAL_DELTA_T_SECONDS, 1013.25, 15);
      zenith[i] = sun.zenithAngle();
      azimuth[i] = sun.azimuth();
      // unwrapped for linear interpolation: no jump from 360 to 0
      if (i > 0) {
        azimuth[i] += 360 * Math.rint((azimuth[i - 1] - azimuth[i]) / 360);
      }
    }
  }

  /**
   * Light on level ground under Haurwitz' clear sky.
   *
   * @param zenithDegrees zenith angle of the sun
   * @return W/m2, 0 below the horizon
   */
  public static double clearSky(double zenithDegrees) {
    double cosine = StrictMath.cos(StrictMath.toRadians(zenithDegrees));
    return cosine <= 0 ? 0 : 1098 * cosine * StrictMath.exp(-0.059 / cosine);
  }

  /**
   * Relative air mass by Kasten and Young (Applied Optics 28, 1989).
   *
   * @param zenithDegrees apparent zenith angle, 0 to 90
   * @return 1 overhead
   */
  public static double airMass(double zenithDegrees) {
    double cosine = StrictMath.cos(StrictMath.toRadians(zenithDegrees));
    return 1 / (cosine + 0.50572 * StrictMath.pow(96.07995 - zenithDegrees, -1.6364));
  }

  /**
   * Light in the plane of the array under a clear sky.
   *
   * @param zenithDegrees zenith angle of the sun
   * @param azimuthDegrees azimuth of the sun, from north, eastward
   * @param tiltDegrees tilt of the array from level
   * @param headingDegrees direction to which the array tilts, from north, eastward
   * @return suns
   */
  public static double onArray(
      double zenithDegrees, double azimuthDegrees, double tiltDegrees, double headingDegrees) {
    double ground = clearSky(zenithDegrees);
    double beam =
        Transposition.beam(
            ground * (1 - DIFFUSE_SHARE),
            zenithDegrees,
            azimuthDegrees,
            tiltDegrees,
            headingDegrees);
    double diffuse = Transposition.diffuse(ground * DIFFUSE_SHARE, tiltDegrees);
    return (beam + diffuse) / 1000;
  }

  @Override
  public double suns(double seconds) {
    double at = Math.min(Math.max(seconds / STEP_SECONDS, 0), zenith.length - 1.001);
    int before = (int) at;
    double share = at - before;
    double phase = 2 * Math.PI * seconds / attitude.swingSeconds();
    return onArray(
        zenith[before] + share * (zenith[before + 1] - zenith[before]),
        azimuth[before] + share * (azimuth[before + 1] - azimuth[before]),
        attitude.tilt() + attitude.swing() * StrictMath.sin(phase),
        attitude.heading() + attitude.turnPerSecond() * seconds);
  }
}
