package org.solarmargin.cli.fit.sweep;

import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.MultivariateJacobianFunction;
import org.hipparchus.util.Pair;
import org.solarmargin.core.cell.Physics;

/**
 * The array's current at each point of a sweep and its derivatives with respect to the free
 * parameters.
 *
 * <p>Exact: the implicit equation is solved at the measured voltage, and the residual is the solved
 * current minus the measured one. Approximate, as in much of the literature: the measured current
 * also appears inside the exponential. Translation to each point's light and temperature is that of
 * the estimator, which has the same form about any reference temperature. The reference here is the
 * mean temperature of the sweep, so that a sweep at one temperature is fitted without any
 * assumption about temperature dependence. The equations are implemented separately here because of
 * their derivatives; a test compares them with the estimator's curve.
 */
final class CurrentModel implements MultivariateJacobianFunction {

  private static final int ITERATIONS = 200;

  /**
   * Index of the derivative with respect to the logarithm of the light, after those of {@link
   * DiodeParameters}.
   */
  private static final int LIGHT = DiodeParameters.SIZE;

  private static final int DERIVATIVES = DiodeParameters.SIZE + 1;
  private static final double TOLERANCE = 1e-15;

  private final Sweep sweep;
  private final boolean exact;
  private final int[] free;
  private final double[] held;
  private final double[] light;
  private final double[] kelvin;
  private final double benchKelvin;
  private final double benchIscCoeff;
  private final double benchThermalVolts;
  private final double[] freeShift;
  private final double[] span;
  private final double[] currentFactor;

  /**
   * A model of a sweep.
   *
   * @param sweep the points
   * @param iscCoeffPerKelvin relative change of the photocurrent, 1/K
   * @param exact whether to use the exact residual
   * @param free indices of the fitted {@link DiodeParameters}
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
    freeShift = new double[n];
    span = new double[n];
    currentFactor = new double[n];
    benchKelvin = sweep.meanCelsius() + Physics.ZERO_CELSIUS_KELVIN;
    benchThermalVolts = Physics.BOLTZMANN_VOLTS_PER_KELVIN * benchKelvin;
    double benchFactor = 1 + iscCoeffPerKelvin * (benchKelvin - Physics.REFERENCE_KELVIN);
    benchIscCoeff = iscCoeffPerKelvin / benchFactor;
    for (int i = 0; i < n; i++) {
      light[i] = sweep.suns(i);
      kelvin[i] = sweep.celsius(i) + Physics.ZERO_CELSIUS_KELVIN;
      span[i] = benchKelvin * (kelvin[i] - benchKelvin) / kelvin[i];
      freeShift[i] = 3 * (Math.log(kelvin[i] / benchKelvin) - span[i] / benchKelvin);
      currentFactor[i] = light[i] * (1 + benchIscCoeff * (kelvin[i] - benchKelvin));
    }
  }

  /** All parameters from the free ones. */
  double[] whole(RealVector point) {
    double[] theta = held.clone();
    for (int j = 0; j < free.length; j++) {
      theta[free[j]] = point.getEntry(j);
    }
    return theta;
  }

  /** The free parameters out of all. */
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
    double ideality = Math.exp(theta[DiodeParameters.LOG_N]);
    double a = ideality * Physics.BOLTZMANN_VOLTS_PER_KELVIN * kelvin[i];
    double reduced = theta[DiodeParameters.W] / (ideality * benchThermalVolts);
    // d ln I0 / dT at the bench temperature, such that W has the relative coefficient [COEFF] there
    double turn = (1 / benchKelvin - theta[DiodeParameters.COEFF]) * span[i];
    double logSaturation =
        Math.log(theta[DiodeParameters.IL])
            - reduced
            + freeShift[i]
            + benchIscCoeff * span[i]
            + reduced * turn;
    double saturation = Math.exp(logSaturation);
    double photocurrent = theta[DiodeParameters.IL] * currentFactor[i];
    double shunt = theta[DiodeParameters.G] * light[i];
    double rs = theta[DiodeParameters.RS];
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
    d[DiodeParameters.IL] =
        np * through * (currentFactor[i] + perLogSaturation / theta[DiodeParameters.IL]);
    d[DiodeParameters.W] =
        np * through * -perLogSaturation * (1 - turn) / (ideality * benchThermalVolts);
    d[DiodeParameters.LOG_N] = np * through * (perLogSaturation * reduced * (1 - turn) + e * u / a);
    d[DiodeParameters.COEFF] = np * through * -perLogSaturation * reduced * span[i];
    d[DiodeParameters.RS] = np * through * -conductance * inside;
    d[DiodeParameters.G] = np * through * -light[i] * u;
    d[LIGHT] = np * through * (photocurrent - shunt * u);
    return np * cellAmps;
  }

  /**
   * Diode voltage at a cell voltage: the root of u - v - Rs I(u), which is convex and increasing,
   * so that Newton's method from above converges without overshooting.
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
