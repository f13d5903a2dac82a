package org.solarmargin.cli.outlook;

import java.util.List;
import java.util.Optional;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.stat.regression.OLSMultipleLinearRegression;

/**
 * Trend over flights by ordinary least squares: a line over the days or, where it leaves at most
 * half the residual sum of squares of the line and is significant, one step between two flights.
 * Intervals are of 95 %, by Student's t; since the position of the step is chosen among all
 * possible ones, its interval is Bonferroni-corrected for their number.
 *
 * @param kind kind of trend
 * @param change percent in 30 days, or the height of the step; NaN where there are too few flights
 * @param low lower end of its interval
 * @param high upper end of its interval
 * @param before number of flights before the step; 0 without one
 * @param mean value at the middle day, or before the step; for drawing
 * @param middle day to which the mean belongs; NaN for a step
 */
record Trend(
    Kind kind, double change, double low, double high, int before, double mean, double middle) {

  /** Kinds of trend. */
  enum Kind {
    /** Fewer than four flights, or all on one day. */
    TOO_FEW,
    /** A slope whose interval includes zero. */
    NONE,
    /** A slope whose interval excludes zero. */
    SLOPE,
    /** A step whose interval excludes zero. */
    STEP
  }

  /** A value at a day. */
  record Point(double day, double percent) {}

  private static final int LEAST_FLIGHTS = 4;

  /** Fewest flights on either side of a step: engineering judgement, as is the number above. */
  private static final int LEAST_SIDE = 2;

  private static final double MONTH = 30;
  private static final double TWO_SIDED_95 = 0.05;

  private record Fit(double intercept, double slope, double error, double residual) {}

  /** Finds the trend of points in chronological order. */
  static Trend of(List<Point> points) {
    int n = points.size();
    boolean oneDay = n == 0 || points.get(n - 1).day() - points.get(0).day() < 1;
    if (n < LEAST_FLIGHTS || oneDay) {
      return new Trend(Kind.TOO_FEW, Double.NaN, Double.NaN, Double.NaN, 0, Double.NaN, Double.NaN);
    }
    double[] days = points.stream().mapToDouble(Point::day).toArray();
    double[] values = points.stream().mapToDouble(Point::percent).toArray();
    Fit line = fit(days, values);
    Optional<Trend> step = step(values, line);
    if (step.isPresent()) {
      return step.get();
    }
    double reach = MONTH * reach(line, n, 1);
    double change = MONTH * line.slope();
    double middle = 0.5 * (days[0] + days[n - 1]);
    return new Trend(
        Math.abs(change) > reach ? Kind.SLOPE : Kind.NONE,
        change,
        change - reach,
        change + reach,
        0,
        line.intercept() + line.slope() * middle,
        middle);
  }

  private static Optional<Trend> step(double[] values, Fit line) {
    int n = values.length;
    int places = n - 2 * LEAST_SIDE + 1;
    Fit best = null;
    int before = 0;
    // with fewer flights a step cannot be distinguished from a slope
    for (int at = LEAST_SIDE; places >= 3 && at <= n - LEAST_SIDE; at++) {
      double[] after = new double[n];
      java.util.Arrays.fill(after, at, n, 1);
      Fit fit = fit(after, values);
      if (best == null || fit.residual() < best.residual()) {
        best = fit;
        before = at;
      }
    }
    if (best == null || best.residual() > 0.5 * line.residual()) {
      return Optional.empty();
    }
    double reach = reach(best, n, places);
    return Math.abs(best.slope()) > reach
        ? Optional.of(
            new Trend(
                Kind.STEP,
                best.slope(),
                best.slope() - reach,
                best.slope() + reach,
                before,
                best.intercept(),
                Double.NaN))
        : Optional.empty();
  }

  private static double reach(Fit fit, int n, int tries) {
    double share = 1 - TWO_SIDED_95 / (2.0 * tries);
    return new TDistribution(n - 2).inverseCumulativeProbability(share) * fit.error();
  }

  private static Fit fit(double[] x, double[] y) {
    OLSMultipleLinearRegression regression = new OLSMultipleLinearRegression();
    double[][] rows = new double[x.length][1];
    for (int i = 0; i < x.length; i++) {
      rows[i][0] = x[i];
    }
    regression.newSampleData(y, rows);
    double[] parameters = regression.estimateRegressionParameters();
    return new Fit(
        parameters[0],
        parameters[1],
        regression.estimateRegressionParametersStandardErrors()[1],
        regression.calculateResidualSumOfSquares());
  }

  /** Value of the trend at a day and flight index, percent, for drawing; NaN without a trend. */
  double at(double day, int index) {
    return switch (kind) {
      case TOO_FEW -> Double.NaN;
      case STEP -> index < before ? mean : mean + change;
      default -> mean + change / MONTH * (day - middle);
    };
  }
}
