package org.solarmargin.cli.fit.sweep;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealVector;
import org.solarmargin.cli.fit.numeric.NormalEquations;

/**
 * Starting points for the least-squares fit. At given ideality and series resistance the
 * approximate residual is linear in photocurrent, saturation current and shunt conductance, so that
 * each point of a grid over the two needs only one small linear solve.
 */
final class StartGrid {

  private static final double IDEALITY_MIN = 0.6;
  private static final double IDEALITY_MAX = 2.4;
  private static final double IDEALITY_STEP = 0.15;
  private static final int RESISTANCES = 10;

  /** Largest series resistance tried, as a share of Voc / Isc: engineering judgement. */
  private static final double LARGEST_DROP = 0.35;

  private static final int MOST_POINTS = 60;
  private static final int STARTS = 4;

  private record Start(double score, RealVector at) {}

  private final Sweep sweep;
  private final CurrentModel model;
  private final double thermalVolts;
  private final double slope;
  private final int stride;

  /**
   * A grid.
   *
   * @param sweep the points
   * @param approximate their model
   * @param slope relative temperature coefficient of W at the bench, 1/K
   */
  StartGrid(Sweep sweep, CurrentModel approximate, double slope) {
    this.sweep = sweep;
    this.model = approximate;
    this.slope = slope;
    this.thermalVolts = DiodeParameters.thermalVolts(sweep.meanCelsius());
    this.stride = Math.max(1, sweep.size() / MOST_POINTS);
  }

  /** The best starting points, best first, each at a different ideality. */
  List<double[]> starts() {
    double ohms =
        LARGEST_DROP * sweep.mostVolts() / sweep.series() / (sweep.mostAmps() / sweep.parallel());
    List<Start> best = new ArrayList<>();
    for (double n = IDEALITY_MIN; n <= IDEALITY_MAX; n += IDEALITY_STEP) {
      Start ofThis = null;
      for (int k = 0; k <= RESISTANCES; k++) {
        // finer towards zero, where the values of good cells are
        double share = (double) k / RESISTANCES;
        Start start = solve(Math.log(n), ohms * share * share);
        if (start != null && (ofThis == null || start.score() < ofThis.score())) {
          ofThis = start;
        }
      }
      if (ofThis != null) {
        best.add(ofThis);
      }
    }
    best.sort(Comparator.comparingDouble(Start::score));
    return best.stream().limit(STARTS).map(s -> s.at().toArray()).toList();
  }

  /** Least squares for IL, I0 and G at given n and Rs; null if the result is not physical. */
  private Start solve(double logN, double rs) {
    // the model at unit parameters gives the columns of the matrix: photocurrent, diode, shunt
    double reference = Math.exp(logN) * thermalVolts;
    double pivot = sweep.mostVolts() / sweep.series();
    double[] unit = {1, pivot, logN, rs, 0, slope};
    double[] shunted = {1, pivot, logN, rs, 1, slope};
    double[][] m = new double[3][4];
    int count = 0;
    for (int i = 0; i < sweep.size(); i += stride) {
      double light = model.photoColumn(i);
      double diode = model.amps(unit, i) - light;
      double shunt = model.amps(shunted, i) - model.amps(unit, i);
      double[] row = {light, diode, shunt, sweep.amps(i)};
      for (int r = 0; r < 3; r++) {
        for (int c = 0; c < 4; c++) {
          m[r][c] += row[r] * row[c];
        }
      }
      count++;
    }
    double[] x = NormalEquations.solve(m, 3);
    if (x == null || x[2] < 0) {
      x = NormalEquations.solve(m, 2);
    }
    if (x == null || !(x[0] > 0 && x[1] > 0)) {
      return null;
    }
    double w = reference * Math.log(x[0] / (x[1] * Math.exp(-pivot / reference)));
    double[] theta = {x[0], w, logN, rs, x.length > 2 ? x[2] : 0, slope};
    double sum = 0;
    for (int i = 0; i < sweep.size(); i += stride) {
      double miss = model.amps(theta, i) - sweep.amps(i);
      sum += miss * miss;
    }
    return w > 0 && sum >= 0 ? new Start(sum / count, MatrixUtils.createRealVector(theta)) : null;
  }
}
