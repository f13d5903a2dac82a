package org.solarmargin.cli.fit.sweep;

import java.util.Arrays;
import java.util.List;
import org.hipparchus.exception.MathRuntimeException;
import org.hipparchus.linear.DiagonalMatrix;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresBuilder;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LevenbergMarquardtOptimizer;
import org.hipparchus.optim.nonlinear.vector.leastsquares.MultivariateJacobianFunction;
import org.hipparchus.util.Pair;
import org.solarmargin.cli.file.InputFault;

/**
 * Least-squares fit of a sweep: Levenberg-Marquardt (Hipparchus) on the exact current, started from
 * each point of {@link StartGrid}. A resistance or conductance that would become negative is held
 * at zero and the others are fitted again.
 */
final class SingleDiodeFit {

  private static final int MOST_EVALUATIONS = 300;
  private static final double COST_TOLERANCE = 1e-13;
  private static final double PARAMETER_TOLERANCE = 1e-11;
  private static final double ORTHOGONALITY = 1e-14;
  private static final double LOG_N_MIN = Math.log(0.31);
  private static final double LOG_N_MAX = Math.log(4.9);
  private static final double LEAST_OHMS = 1e-9;
  private static final double LEAST_SIEMENS = 1e-9;
  private static final int REWEIGHTINGS = 3;

  /**
   * A smaller spread of cell temperatures within a sweep does not determine the temperature
   * coefficient, K.
   */
  private static final double LEAST_KELVIN = 5;

  /** Limits of the temperature coefficient, 1/K, wider than the range of silicon cells. */
  private static final double STEEPEST_COEFF = -0.009;

  private static final double FLATTEST_COEFF = -0.0005;

  /** A minimum: sum of squares, point and free parameters. */
  private record Minimum(double cost, RealVector at, List<Integer> free) {
    double[] array() {
      return at.toArray();
    }
  }

  private final Sweep sweep;
  private final double iscCoeff;
  private final FitOptions options;
  private int evaluations;
  private double bestCost;
  private double[] bestTheta;

  SingleDiodeFit(Sweep sweep, FitOptions options) {
    this.sweep = sweep;
    this.options = options;
    this.iscCoeff = options.iscCoeffPerKelvin();
  }

  /**
   * The global optimum of the exact residual.
   *
   * @throws InputFault if no start converges
   */
  FitResult run() {
    double[] weights = equalWeights();
    List<double[]> starts =
        new StartGrid(
                sweep,
                model(false, DiodeParameters.all(), new double[DiodeParameters.SIZE]),
                slope())
            .starts();
    Minimum found = best(true, starts, weights);
    if (found == null) {
      throw new InputFault(
          sweep.name()
              + ": no single-diode curve fits these points: check the points and the number of"
              + " cells in series");
    }
    boolean few = sweep.size() < options.fewPoints();
    for (int i = 0; options.lightSd() > 0 && i < REWEIGHTINGS; i++) {
      weights = lightWeights(found.array());
      Minimum again = best(true, List.of(found.array()), weights);
      found = again == null ? found : again;
    }
    FitResult result = result(found, weights);
    if (sweep.celsiusSpread() >= LEAST_KELVIN) {
      result = withCoefficient(result, weights);
    }
    if (few) {
      result = holdUndetermined(result, weights);
    }
    int spent = evaluations;
    Minimum approximate = best(false, starts, equalWeights());
    double approximateRms =
        approximate == null ? Double.NaN : Math.sqrt(approximate.cost() / sweep.size());
    return result.with(spent, approximateRms);
  }

  /** Temperature coefficient of W at the bench that corresponds to the stated one. */
  private double slope() {
    return DiodeParameters.slopeOf(options.vocCoeffPerKelvin(), sweep.meanCelsius());
  }

  /**
   * With points at several temperatures, fits the coefficient too, if that is more precise than the
   * stated one.
   */
  private FitResult withCoefficient(FitResult first, double[] weights) {
    int[] free = Arrays.copyOf(first.free(), first.free().length + 1);
    free[free.length - 1] = DiodeParameters.COEFF;
    Minimum found = descend(true, first.theta(), free, weights);
    if (found == null) {
      return first;
    }
    FitResult result = result(found, weights);
    return result.sd(DiodeParameters.COEFF) < options.vocCoeffSd() ? result : first;
  }

  /**
   * With few points: first removes the shunt, then holds the ideality at a typical value, each only
   * if undetermined.
   */
  private FitResult holdUndetermined(FitResult first, double[] weights) {
    FitResult result = first;
    if (!result.shuntKnown() && result.isFree(DiodeParameters.G)) {
      result = refit(result, DiodeParameters.G, 0, weights);
    }
    if (!result.idealityKnown() && result.isFree(DiodeParameters.LOG_N)) {
      result = refit(result, DiodeParameters.LOG_N, Math.log(options.usualIdeality()), weights);
    }
    return result;
  }

  private FitResult refit(FitResult from, int hold, double value, double[] weights) {
    double[] theta = from.theta();
    theta[hold] = value;
    int[] free = Arrays.stream(from.free()).filter(j -> j != hold).toArray();
    Minimum found = descend(true, theta, free, weights);
    return found == null ? from : result(found, weights);
  }

  private Minimum best(boolean exact, List<double[]> starts, double[] weights) {
    Minimum best = null;
    for (double[] start : starts) {
      Minimum found = descend(exact, start, DiodeParameters.all(), weights);
      if (found != null && (best == null || found.cost() < best.cost())) {
        best = found;
      }
    }
    return best;
  }

  /** Minimises; a parameter that ends at zero is held there and the rest is minimised again. */
  private Minimum descend(boolean exact, double[] start, int[] free, double[] weights) {
    bestCost = Double.POSITIVE_INFINITY;
    bestTheta = null;
    CurrentModel model = model(exact, free, start);
    try {
      optimise(model, start, weights);
    } catch (MathRuntimeException e) {
      // stalled, or out of evaluations: the best point so far is used
      if (bestTheta == null) {
        return null;
      }
    }
    if (bestTheta == null) {
      return null;
    }
    for (int j : new int[] {DiodeParameters.RS, DiodeParameters.G}) {
      double least = j == DiodeParameters.RS ? LEAST_OHMS : LEAST_SIEMENS;
      if (Arrays.stream(free).anyMatch(k -> k == j) && bestTheta[j] <= least) {
        double[] theta = bestTheta.clone();
        theta[j] = 0;
        return descend(exact, theta, Arrays.stream(free).filter(k -> k != j).toArray(), weights);
      }
    }
    return new Minimum(
        bestCost, MatrixUtils.createRealVector(bestTheta), Arrays.stream(free).boxed().toList());
  }

  private void optimise(CurrentModel model, double[] start, double[] weights) {
    double[] measured = new double[sweep.size()];
    Arrays.setAll(measured, sweep::amps);
    MultivariateJacobianFunction counted =
        point -> {
          evaluations++;
          Pair<RealVector, RealMatrix> value = model.value(point);
          double cost = 0;
          for (int i = 0; i < measured.length; i++) {
            double miss = value.getFirst().getEntry(i) - measured[i];
            cost += weights[i] * miss * miss;
          }
          if (cost < bestCost) {
            bestCost = cost;
            bestTheta = model.whole(point);
          }
          return value;
        };
    new LevenbergMarquardtOptimizer()
        .withCostRelativeTolerance(COST_TOLERANCE)
        .withParameterRelativeTolerance(PARAMETER_TOLERANCE)
        .withOrthoTolerance(ORTHOGONALITY)
        .optimize(
            new LeastSquaresBuilder()
                .start(model.freeOf(start))
                .model(counted)
                .target(measured)
                .weight(new DiagonalMatrix(weights))
                .parameterValidator(point -> within(point, model))
                .lazyEvaluation(false)
                .maxEvaluations(MOST_EVALUATIONS)
                .maxIterations(MOST_EVALUATIONS)
                .build());
  }

  /** Limits a trial point to the domain of the equation. */
  private RealVector within(RealVector point, CurrentModel model) {
    double[] theta = model.whole(point);
    theta[DiodeParameters.IL] = Math.max(theta[DiodeParameters.IL], 1e-6 * sweep.mostAmps());
    theta[DiodeParameters.W] = Math.min(Math.max(theta[DiodeParameters.W], 1e-3), 20);
    theta[DiodeParameters.LOG_N] =
        Math.min(Math.max(theta[DiodeParameters.LOG_N], LOG_N_MIN), LOG_N_MAX);
    theta[DiodeParameters.RS] = Math.max(theta[DiodeParameters.RS], 0);
    theta[DiodeParameters.G] = Math.max(theta[DiodeParameters.G], 0);
    theta[DiodeParameters.COEFF] =
        Math.min(Math.max(theta[DiodeParameters.COEFF], STEEPEST_COEFF), FLATTEST_COEFF);
    return MatrixUtils.createRealVector(model.freeOf(theta));
  }

  private FitResult result(Minimum found, double[] weights) {
    int[] free = found.free().stream().mapToInt(Integer::intValue).toArray();
    double[] theta = found.array();
    CurrentModel model = model(true, free, theta);
    return new FitResult(sweep, options, model, theta, free, weights);
  }

  private CurrentModel model(boolean exact, int[] free, double[] held) {
    return new CurrentModel(sweep, iscCoeff, exact, free, held);
  }

  private double[] equalWeights() {
    double[] weights = new double[sweep.size()];
    Arrays.fill(weights, 1);
    return weights;
  }

  /** Weights of the readings where the light at each is uncertain by its sigma. */
  private double[] lightWeights(double[] theta) {
    CurrentModel model = model(true, DiodeParameters.all(), theta);
    double noise = options.currentNoise(sweep.mostAmps());
    double[] weights = new double[sweep.size()];
    for (int i = 0; i < weights.length; i++) {
      double byLight = options.lightSd() * model.perLogLight(theta, i);
      weights[i] = noise * noise / (noise * noise + byLight * byLight);
    }
    return weights;
  }
}
