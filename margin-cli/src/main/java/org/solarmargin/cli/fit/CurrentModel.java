package org.solarmargin.cli.fit;

import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.MultivariateJacobianFunction;
import org.hipparchus.util.Pair;
import org.solarmargin.core.cell.Physics;

/**
 * The array's current at each point of a sweep and its derivatives by the free parameters.
 *
 * <p>Exact: the implicit equation is solved at the measured voltage, and the residual is the solved
 * current minus the measured one. Approximate, as a large literature has it: the measured current
 * stands inside the exponential too. Translation to each point's light and temperature after De
 * Soto, Klein and Beckman (Solar Energy 80, 2006), as in the estimator; written on its own here for
 * its derivatives, and held against the estimator's curve by a test.
 */
final class CurrentModel implements MultivariateJacobianFunction {

  private static final int ITERATIONS = 200;

  /** Place of the derivative by the logarithm of the light, behind those by {@link Theta}. */
  private static final int LIGHT = Theta.SIZE;

  private static final int DERIVATIVES = Theta.SIZE + 1;
  private static final double TOLERANCE = 1e-15;

  private final Sweep sweep;
  private final boolean exact;
  private final int[] free;
  private final double[] held;
  private final double[] light;
  private final double[] kelvin;
  private final double[] logSaturationShift;
  private final double[] currentFactor;

  /**
   * A model of a sweep.
   *
   * @param sweep the points
   * @param iscCoeffPerKelvin relative change of the photocurrent, 1/K
   * @param exact which residual
   * @param free the places in {@link Theta} that are fitted
   * @param held values of the others
   */
  CurrentModel(Sweep sweep, double iscCoeffPerKelvin, boolean exact, int[] free, double[] held) {
    this.sweep = sweep;
    this.exact = exact;
    this.free = free.clone();
    this.held = held.clone();
    int n = sweep.size();
    light = new double[n];
    kelvin = new double[n];
    logSaturationShift = new double[n];
    currentFactor = new double[n];
    for (int i = 0; i < n; i++) {
      light[i] = sweep.suns(i);
      kelvin[i] = sweep.celsius(i) + Physics.ZERO_CELSIUS_KELVIN;
      double above = kelvin[i] - Physics.REFERENCE_KELVIN;
      double gap = Physics.BAND_GAP_VOLTS * (1 + Physics.BAND_GAP_TEMP_COEFF * above);
      logSaturationShift[i] =
          3 * Math.log(kelvin[i] / Physics.REFERENCE_KELVIN)
              + Physics.BAND_GAP_VOLTS / Theta.REFERENCE_THERMAL_VOLTS
              - gap / (Physics.BOLTZMANN_VOLTS_PER_KELVIN * kelvin[i]);
      currentFactor[i] = light[i] * (1 + iscCoeffPerKelvin * above);
    }
  }

  /** All five parameters from the free ones. */
  double[] whole(RealVector point) {
    double[] theta = held.clone();
    for (int j = 0; j < free.length; j++) {
      theta[free[j]] = point.getEntry(j);
    }
    return theta;
  }

  /** The free ones of all five. */
  double[] freeOf(double[] theta) {
    double[] point = new double[free.length];
    for (int j = 0; j < free.length; j++) {
      point[j] = theta[free[j]];
    }
    return point;
  }

  @Override
  public Pair<RealVector, RealMatrix> value(RealVector point) {
    double[] theta = whole(point);
    int n = sweep.size();
    double[] values = new double[n];
    double[][] jacobian = new double[n][free.length];
    double[] derivatives = new double[DERIVATIVES];
    for (int i = 0; i < n; i++) {
      values[i] = at(theta, i, derivatives);
      for (int j = 0; j < free.length; j++) {
        jacobian[i][j] = derivatives[free[j]];
      }
    }
    return new Pair<>(new ArrayRealVector(values, false), MatrixUtils.createRealMatrix(jacobian));
  }

  /** Modelled current of the array at a point, A. */
  double amps(double[] theta, int i) {
    return at(theta, i, new double[DERIVATIVES]);
  }

  /** Array current at unit photocurrent with neither diode nor shunt, A. */
  double photoColumn(int i) {
    return sweep.parallel() * currentFactor[i];
  }

  /** Change of the array's current with the logarithm of the light at a point, A. */
  double perLogLight(double[] theta, int i) {
    double[] d = new double[DERIVATIVES];
    at(theta, i, d);
    return d[LIGHT];
  }

  private double at(double[] theta, int i, double[] d) {
    double ideality = Math.exp(theta[Theta.LOG_N]);
    double a = ideality * Physics.BOLTZMANN_VOLTS_PER_KELVIN * kelvin[i];
    double reduced = theta[Theta.W] / (ideality * Theta.REFERENCE_THERMAL_VOLTS);
    double logSaturation = Math.log(theta[Theta.IL]) - reduced + logSaturationShift[i];
    double saturation = Math.exp(logSaturation);
    double photocurrent = theta[Theta.IL] * currentFactor[i];
    double shunt = theta[Theta.G] * light[i];
    double rs = theta[Theta.RS];
    double v = sweep.volts(i) / sweep.series();
    double measured = sweep.amps(i) / sweep.parallel();
    double u =
        exact ? solve(v, rs, photocurrent, saturation, logSaturation, a, shunt) : v + rs * measured;
    double e = Math.exp(u / a + logSaturation);
    double cellAmps = photocurrent + saturation - e - shunt * u;
    double conductance = e / a + shunt;
    double inside = exact ? cellAmps : measured;
    double through = exact ? 1 / (1 + conductance * rs) : 1;
    int np = sweep.parallel();
    double perLogSaturation = saturation - e;
    d[Theta.IL] = np * through * (currentFactor[i] + perLogSaturation / theta[Theta.IL]);
    d[Theta.W] = np * through * -perLogSaturation / (ideality * Theta.REFERENCE_THERMAL_VOLTS);
    d[Theta.LOG_N] = np * through * (perLogSaturation * reduced + e * u / a);
    d[Theta.RS] = np * through * -conductance * inside;
    d[Theta.G] = np * through * -light[i] * u;
    d[LIGHT] = np * through * (photocurrent - shunt * u);
    return np * cellAmps;
  }

  /**
   * Diode voltage at a cell voltage: the root of u - v - Rs I(u), which is convex and rising, so
   * that Newton from above comes down to it without overshooting.
   */
  private static double solve(
      double v,
      double rs,
      double photocurrent,
      double saturation,
      double logSaturation,
      double a,
      double shunt) {
    double open = a * (Math.log(photocurrent + saturation) - logSaturation);
    double u = Math.min(v + rs * (photocurrent + saturation), Math.max(v, open));
    for (int k = 0; k < ITERATIONS; k++) {
      double e = Math.exp(u / a + logSaturation);
      double h = u - v - rs * (photocurrent + saturation - e - shunt * u);
      double step = h / (1 + rs * (e / a + shunt));
      u -= step;
      if (Math.abs(step) <= TOLERANCE * (1 + Math.abs(u))) {
        break;
      }
    }
    return u;
  }
}
