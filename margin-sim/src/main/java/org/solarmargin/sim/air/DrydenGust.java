package org.solarmargin.sim.air;

import java.util.Random;

/**
 * Turbulence by the Dryden spectra, low-altitude model of MIL-F-8785C (1980).
 *
 * <p>White noise passes the filters of the spectra, which are of first order along the wind and of
 * second order in the vertical. The filters are discretised exactly (matrix exponential of the
 * companion form), so that variance and spectrum do not depend on the step. The frozen field passes
 * a hovering craft at the speed of the mean wind; below {@value #SLOWEST} m/s, which is outside the
 * specification, that speed is used.
 */
public final class DrydenGust {

  private static final double SLOWEST = 1;
  private static final double FEET = 0.3048;

  private final double along;
  private final double alongNoise;
  private final double upKeep;
  private final double upDecay;
  private final double upStep;
  private final double c0;
  private final double c1;
  private final double n11;
  private final double n21;
  private final double n22;
  private final Random random;
  private double u;
  private double x0;
  private double x1;

  /**
   * Creates a gust field at one height and wind.
   *
   * @param heightMetres height, m, 3 to 305
   * @param windMetresPerSecond mean wind, m/s
   * @param wind20 wind at 20 ft, W20 of the standard, m/s: 7.7 is light turbulence
   * @param stepSeconds step of {@link #step()}, s
   * @param random source of noise
   */
  public DrydenGust(
      double heightMetres,
      double windMetresPerSecond,
      double wind20,
      double stepSeconds,
      Random random) {
    this.random = random;
    double speed = Math.max(windMetresPerSecond, SLOWEST);
    double alongSeconds = alongScale(heightMetres) / speed;
    along = StrictMath.exp(-stepSeconds / alongSeconds);
    alongNoise = alongSigma(heightMetres, wind20) * Math.sqrt(1 - along * along);
    // Phi_w = s^2 L/(pi V) (1 + 3 x^2)/(1 + x^2)^2 is white noise through (1 + sqrt(3) tau s)/(1 +
    // tau s)^2
    double tau = heightMetres / speed;
    double sigma = upSigma(wind20);
    double h = stepSeconds / tau;
    double e = StrictMath.exp(-h);
    upKeep = e * (1 + h);
    upDecay = e * (1 - h);
    upStep = e * h;
    // in units of tau: x0' = x1, x1' = -x0 - 2 x1 + w; stationary covariance diag(1/4, 1/4) for
    // unit w
    double stationary = 0.25;
    double q11 = stationary * (1 - upKeep * upKeep - upStep * upStep);
    double q22 = stationary * (1 - upDecay * upDecay - upStep * upStep);
    double q12 = -stationary * (-upKeep * upStep + upStep * upDecay);
    n11 = Math.sqrt(Math.max(q11, 0));
    n21 = n11 > 0 ? q12 / n11 : 0;
    n22 = Math.sqrt(Math.max(q22 - n21 * n21, 0));
    // variance c0^2/4 + c1^2/4 with c1 = sqrt(3) c0 equals c0^2: so c0 is sigma
    c0 = sigma;
    c1 = Math.sqrt(3) * sigma;
    u = alongSigma(heightMetres, wind20) * random.nextGaussian();
    x0 = Math.sqrt(stationary) * random.nextGaussian();
    x1 = Math.sqrt(stationary) * random.nextGaussian();
  }

  /**
   * Length scale along and across the wind, Lu = Lv.
   *
   * @param heightMetres 3 to 305
   * @return m
   */
  public static double alongScale(double heightMetres) {
    double feet = heightMetres / FEET;
    return FEET * feet / StrictMath.pow(0.177 + 0.000823 * feet, 1.2);
  }

  /**
   * Sigma along and across the wind.
   *
   * @param heightMetres 3 to 305
   * @param wind20 W20, m/s
   * @return m/s
   */
  public static double alongSigma(double heightMetres, double wind20) {
    double feet = heightMetres / FEET;
    return upSigma(wind20) / StrictMath.pow(0.177 + 0.000823 * feet, 0.4);
  }

  /**
   * Sigma of the vertical gust.
   *
   * @param wind20 W20, m/s
   * @return m/s
   */
  public static double upSigma(double wind20) {
    return 0.1 * wind20;
  }

  /** Advances the field by one step. */
  public void step() {
    u = along * u + alongNoise * random.nextGaussian();
    double a = random.nextGaussian();
    double b = random.nextGaussian();
    double next0 = upKeep * x0 + upStep * x1 + n11 * a;
    x1 = -upStep * x0 + upDecay * x1 + n21 * a + n22 * b;
    x0 = next0;
  }

  /**
   * Gust speed along the mean wind.
   *
   * @return m/s
   */
  public double alongMetresPerSecond() {
    return u;
  }

  /**
   * Upward gust speed.
   *
   * @return m/s
   */
  public double upMetresPerSecond() {
    return c0 * x0 + c1 * x1;
  }
}
