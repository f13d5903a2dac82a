package org.solarmargin.cli.fit.rotor;

import java.util.Arrays;
import org.hipparchus.exception.MathRuntimeException;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresBuilder;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresOptimizer;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LevenbergMarquardtOptimizer;
import org.hipparchus.util.Pair;
import org.solarmargin.cli.file.InputFault;
import org.solarmargin.cli.fit.numeric.Root;

/**
 * Least-squares fit of a thrust stand's bus current: motor current {@code i = C E^m} with back-EMF
 * {@code E = throttle V - R i}, bus current {@code throttle i + P / V}. C is the propulsion
 * constant, m its exponent: 2 by the propeller laws, in practice slightly different. The fit
 * determines ln C, m, ln R and the constant housekeeping power.
 */
public final class RotorFit {

  private static final int LOG_C = 0;
  private static final int M = 1;
  private static final int LOG_R = 2;
  private static final int HOUSEKEEPING = 3;
  private static final int SIZE = 4;
  private static final double PROPELLER_EXPONENT = 2;

  /** Starting values of the copper's share of the winding voltage: engineering judgement. */
  private static final double[] COPPER_SHARES = {0.02, 0.06, 0.15};

  private static final int MOST_EVALUATIONS = 400;

  /** Upper limit of the search for a winding voltage, V, beyond that of any craft. */
  private static final double MOST_WINDING_VOLTS = 1e5;

  /** Largest sigma of ln R at which R counts as determined: engineering judgement. */
  private static final double KNOWN_LOG_SD = 0.5;

  private final Stand stand;
  private final double[] at;
  private final double[] sd;
  private final double rms;

  private RotorFit(Stand stand, double[] at, double[] sd, double rms) {
    this.stand = stand;
    this.at = at;
    this.sd = sd;
    this.rms = rms;
  }

  /**
   * Fits a stand's readings. Exponent and winding resistance have similar effects on the curve:
   * where the rows cannot separate them, the exponent is held at 2, its value by the propeller
   * laws.
   */
  public static RotorFit of(Stand stand) {
    RotorFit free = of(stand, false);
    return free.ohmsKnown() ? free : of(stand, true);
  }

  private static RotorFit of(Stand stand, boolean exponentHeld) {
    LeastSquaresOptimizer.Optimum best = null;
    double[] measured = new double[stand.size()];
    Arrays.setAll(measured, stand::amps);
    int[] fitted =
        exponentHeld
            ? new int[] {LOG_C, LOG_R, HOUSEKEEPING}
            : new int[] {LOG_C, M, LOG_R, HOUSEKEEPING};
    for (double share : COPPER_SHARES) {
      try {
        LeastSquaresOptimizer.Optimum found =
            new LevenbergMarquardtOptimizer()
                .optimize(
                    new LeastSquaresBuilder()
                        .start(part(start(stand, share), fitted))
                        .model(point -> value(stand, whole(point, fitted), fitted))
                        .target(measured)
                        .parameterValidator(
                            point ->
                                MatrixUtils.createRealVector(
                                    part(within(whole(point, fitted)), fitted)))
                        .lazyEvaluation(false)
                        .maxEvaluations(MOST_EVALUATIONS)
                        .maxIterations(MOST_EVALUATIONS)
                        .build());
        best = best == null || found.getCost() < best.getCost() ? found : best;
      } catch (MathRuntimeException e) {
        // no convergence from this start; another may converge
      }
    }
    if (best == null) {
      throw new InputFault(
          stand.name()
              + ": the fit does not converge on these rows: check throttle (0 to 1), bus_v and"
              + " bus_a");
    }
    double freedom = Math.max(stand.size() - fitted.length, 1);
    double variance = best.getCost() * best.getCost() / freedom;
    double[] sd = new double[SIZE];
    try {
      RealMatrix covariance = best.getCovariances(1e-14);
      for (int j = 0; j < fitted.length; j++) {
        sd[fitted[j]] = Math.sqrt(variance * Math.max(covariance.getEntry(j, j), 0));
      }
    } catch (MathRuntimeException e) {
      Arrays.fill(sd, Double.POSITIVE_INFINITY);
    }
    return new RotorFit(stand, whole(best.getPoint(), fitted), sd, best.getRMS());
  }

  private static double[] whole(RealVector point, int[] fitted) {
    double[] all = new double[SIZE];
    all[M] = PROPELLER_EXPONENT;
    for (int j = 0; j < fitted.length; j++) {
      all[fitted[j]] = point.getEntry(j);
    }
    return all;
  }

  private static double[] part(double[] all, int[] fitted) {
    return Arrays.stream(fitted).mapToDouble(j -> all[j]).toArray();
  }

  /**
   * Starting point from the row of highest power, given the copper's share of the winding voltage.
   */
  private static double[] start(Stand stand, double copperShare) {
    int top = 0;
    double least = Double.POSITIVE_INFINITY;
    for (int i = 0; i < stand.size(); i++) {
      top = stand.watts(i) > stand.watts(top) ? i : top;
      least = Math.min(least, stand.watts(i));
    }
    double winding = stand.throttle(top) * stand.volts(top);
    double motor = stand.amps(top) / stand.throttle(top);
    double emf = winding * (1 - copperShare);
    return new double[] {
      Math.log(motor / (emf * emf)),
      2,
      Math.log(copperShare * winding / motor),
      Math.max(least, 0) / 2
    };
  }

  private static double[] within(double[] p) {
    p[LOG_C] = Math.min(Math.max(p[LOG_C], -40), 10);
    p[M] = Math.min(Math.max(p[M], 0.8), 4);
    p[LOG_R] = Math.min(Math.max(p[LOG_R], -12), 5);
    p[HOUSEKEEPING] = Math.max(p[HOUSEKEEPING], 0);
    return p;
  }

  private static Pair<RealVector, RealMatrix> value(Stand stand, double[] p, int[] fitted) {
    int n = stand.size();
    double[] values = new double[n];
    RealMatrix jacobian = MatrixUtils.createRealMatrix(n, fitted.length);
    for (int i = 0; i < n; i++) {
      values[i] = busAmps(p, stand.throttle(i), stand.volts(i));
      for (int k = 0; k < fitted.length; k++) {
        int j = fitted[k];
        double h = 1e-6 * Math.max(1, Math.abs(p[j]));
        double[] up = p.clone();
        up[j] += h;
        double[] down = p.clone();
        down[j] -= h;
        double change =
            busAmps(up, stand.throttle(i), stand.volts(i))
                - busAmps(down, stand.throttle(i), stand.volts(i));
        jacobian.setEntry(i, k, change / (2 * h));
      }
    }
    return new Pair<>(new ArrayRealVector(values, false), jacobian);
  }

  private static double busAmps(double[] p, double throttle, double volts) {
    double motor = motorAmps(p, throttle * volts);
    return throttle * motor + p[HOUSEKEEPING] / volts;
  }

  /**
   * Root of E + R C E^m = winding volts by Newton's method from above; the left side increases with
   * E.
   */
  private static double motorAmps(double[] p, double windingVolts) {
    if (windingVolts <= 0) {
      return 0;
    }
    double c = Math.exp(p[LOG_C]);
    double r = Math.exp(p[LOG_R]);
    double m = p[M];
    double emf = windingVolts;
    for (int k = 0; k < 60; k++) {
      double amps = c * Math.pow(emf, m);
      double step = (emf + r * amps - windingVolts) / (1 + r * m * amps / emf);
      emf = Math.max(emf - step, 1e-3 * emf);
      if (Math.abs(step) < 1e-13 * windingVolts) {
        break;
      }
    }
    return c * Math.pow(emf, m);
  }

  /**
   * Winding voltage (throttle times bus voltage) at which one stand's motors draw a power.
   *
   * @param watts power into the motors, W
   * @param densityRatio air density relative to that at the stand; C is proportional to it
   */
  double windingVolts(double watts, double densityRatio) {
    double[] p = at.clone();
    p[LOG_C] += Math.log(densityRatio);
    double high = 1;
    while (high * motorAmps(p, high) < watts) {
      if (high > MOST_WINDING_VOLTS) {
        return high;
      }
      high *= 2;
    }
    return Root.of(volts -> volts * motorAmps(p, volts) - watts, 0, high);
  }

  public Stand stand() {
    return stand;
  }

  /** Propulsion constant C, A/V^m. */
  public double propulsion() {
    return Math.exp(at[LOG_C]);
  }

  public double exponent() {
    return at[M];
  }

  /** Sigma of the exponent; 0 if it was held. */
  public double exponentSd() {
    return sd[M];
  }

  public double windingOhms() {
    return Math.exp(at[LOG_R]);
  }

  public double housekeepingWatts() {
    return at[HOUSEKEEPING];
  }

  public double housekeepingSd() {
    return sd[HOUSEKEEPING];
  }

  /** Sigma of ln C. */
  public double propulsionLogSd() {
    return sd[LOG_C];
  }

  public boolean ohmsKnown() {
    return sd[LOG_R] < KNOWN_LOG_SD;
  }

  /** Root mean square of the residuals of the bus current, A. */
  public double rms() {
    return rms;
  }
}
